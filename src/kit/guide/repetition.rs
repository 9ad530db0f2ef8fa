//! What a sentence asks for again: `Repeat for the other side.`

use std::{ops::Range, sync::LazyLock};

use regex::Regex;

use super::{Asked, Guide, Within, telling::MOST_NEAR, whereabouts::Whereabouts};
use crate::{
    Doubt,
    kit::Usage,
    notation::{Again, Quantity, Sentence, makes_several, more_of_it},
    words::pattern,
};

/// Lines that sentences of a stage come to at most by repetitions (common practice, no source).
const MOST_LINES: usize = 10_000;

impl Guide {
    /// What a sentence repeats that stands here.
    fn to_repeat(&self) -> Range<usize> {
        let end = self.asked.len();
        // What stands above the paragraph is a joint of its own, where the paragraph has one.
        match (self.since.min(end), self.paragraph_from) {
            (since, from) if since < from && from < end => from..end,
            (since, _) if since < end => since..end,
            _ => self.repeated.clone(),
        }
    }

    /// What a sentence repeats: from where the thing that it names is named first, or the steps whose numbers it names.
    fn to_repeat_by(&self, said: &Sentence, text: &str) -> Range<usize> {
        let steps = said
            .repeats_stage
            .as_deref()
            .and_then(|all| self.steps(all));
        let again = steps.unwrap_or_else(|| self.to_repeat());
        let of = |text: &str| Whereabouts::of(text).without(&self.title);
        let things = of(text);
        let first = again
            .clone()
            .find(|&at| of(&self.asked[at].text).shares_thing(&things));
        first
            .filter(|_| said.repeats_stage.is_none())
            .unwrap_or(again.start)..again.end
    }

    /// What the numbered steps of the stage ask for that words name: `1`, `1 to 3`.
    fn steps(&self, all: &str) -> Option<Range<usize>> {
        let mut numbers = all
            .split(|c: char| !c.is_ascii_digit())
            .filter_map(|n| n.parse().ok());
        let first: u32 = numbers.next()?;
        let last = numbers.next_back().unwrap_or(first);
        let row_of = |number: u32| {
            let step = self.steps.iter().find(|(step, _)| *step == number);
            step.map(|(_, row)| *row)
        };
        let from = row_of(first)?;
        let last = row_of(last)?;
        let end = self
            .steps
            .iter()
            .map(|(_, row)| *row)
            .find(|row| *row > last);
        let at = |row: u32| self.asked.partition_point(|asked| asked.row < row);
        Some(at(from)..at(end.unwrap_or(u32::MAX)))
    }

    /// True where something was called for that a sentence may go on with.
    pub(super) fn has_items(&self) -> bool {
        self.asked[self.to_repeat()].iter().any(is_wanted)
    }

    /// True for a sentence of a thing that is told apart from those before: `Do the two right braces, too.`
    pub(super) fn is_of_another(&self, text: &str) -> bool {
        let place = Whereabouts::of(text);
        let last = self.asked[self.to_repeat()]
            .iter()
            .rev()
            .find(|one| is_wanted(one));
        last.is_some_and(|last| place.differs_by_mark(&Whereabouts::of(&last.text)))
    }

    /// True where what was called for is for so many places already.
    pub(super) fn is_done_for(&self, places: u32) -> bool {
        let all = || {
            self.asked[self.to_repeat()]
                .iter()
                .filter(|asked| is_wanted(asked))
        };
        // `3 bolts per end. Five beams.`, of ten ends
        all().all(|asked| asked.places >= places && asked.places.is_multiple_of(places))
    }

    /// Takes a sentence of the paragraph that counts and names nothing for more of the one item before it; doubts
    /// that where it may be said of several, or does not say how many.
    pub(super) fn may_go_on(&mut self, said: &Sentence, again: Option<Again>, more: Asked) {
        let joint = self.joint.max(self.paragraph_from).min(self.asked.len());
        let wanted: Vec<&Asked> = self.asked[joint..]
            .iter()
            .filter(|one| is_wanted(one))
            .collect();
        let pieces = more_of_it(&more.text).filter(|_| !makes_several(&more.text));
        let pieces = pieces.map(u64::from);
        let stated =
            |one: &Asked| Some(one.callout.as_ref().ok()?.quantity?.pieces * u64::from(one.places));
        match (&*wanted, pieces) {
            ([], _) => {}
            // `Fit four bolts. Two at the top, two at the bottom.`
            ([one], Some(pieces)) if stated(one) == Some(pieces) && more.text.contains(" and ") => {
            }
            // `Fit six of them in the upper rail.`
            ([one], Some(pieces)) if is_of_them(&more.text) && stated(one) >= Some(pieces) => {}
            ([one], Some(pieces)) => {
                let (row, mut line) = (
                    one.row,
                    Asked {
                        row: more.row,
                        text: more.text,
                        ..(*one).clone()
                    },
                );
                if let Ok(callout) = &mut line.callout {
                    callout.quantity = Some(Quantity {
                        pieces,
                        packs: None,
                    });
                }
                line.place.clone_from(&said.place);
                line.places = said.places;
                line.doubts = said.doubts.clone();
                line.doubts.push(Doubt::HowMany(
                    format!(
                        "\"{}\" names no item: taken as {pieces} more of line {row}",
                        line.text
                    )
                    .into(),
                ));
                self.asked.push(line);
            }
            _ => match again {
                Some(Again::May(Some(places))) if self.is_done_for(places) => {}
                None if pieces.is_none() => {}
                _ => self.may_repeat(&more.text),
            },
        }
    }

    /// Doubts what was called for in the stage, or in the paragraph alone, before a sentence by which it may not be needed.
    pub(super) fn may_be_optional(&mut self, text: &str, within: Within) {
        let near = self.asked.len().saturating_sub(MOST_NEAR);
        let from = match within {
            Within::Stage => near,
            Within::Paragraph => near.max(self.paragraph_from),
        };
        let before = self.asked.iter_mut().skip(from);
        for asked in before.filter(|asked| is_wanted(asked)) {
            asked.doubts.push(may_be_needed(text));
        }
    }

    /// Doubts what was called for before a sentence that says it to go for more, and not for how many.
    pub(super) fn may_repeat(&mut self, text: &str) {
        let again = self.to_repeat();
        for asked in self.asked[again]
            .iter_mut()
            .filter(|asked| is_wanted(asked))
        {
            asked.doubts.push(Doubt::HowMany(
                format!("\"{text}\" may ask for it again: how often is not said; taken once")
                    .into(),
            ));
        }
    }

    /// Asks again for what was asked for since the last repetition. `aside`: the sentence, to be kept
    /// word for word where it cannot be known what it repeats.
    pub(super) fn repeat(&mut self, said: &Sentence, times: u32, aside: Asked) {
        let elsewhere = said.repeats_stage.as_deref().is_some_and(|stage| {
            Some(stage) != stage_number(&self.title) && self.steps(stage).is_none()
        });
        let again = self.to_repeat_by(said, &aside.text);
        let all = || {
            self.asked[again.clone()]
                .iter()
                .filter(|one| is_wanted(one))
        };
        let wanted = all().count();
        let why = match wanted {
            _ if elsewhere => Some("repeats another stage: list what it takes here"),
            _ if self.asked.len() + wanted > MOST_LINES => {
                Some("repeats more lines than a stage of a guide can hold")
            }
            0 => Some("repeats, and nothing was called for before it in this stage"),
            _ => None,
        };
        if let Some(why) = why {
            self.asked.push(Asked {
                callout: Err(why),
                ..aside
            });
            if !elsewhere {
                self.since = self.asked.len();
                self.repeated = self.since..self.since;
            }
            return;
        }
        let items: Vec<Asked> = all().cloned().collect();
        // `to posts 1 and 2`, and again `on posts 3 and 4`: as many, so once.
        let as_many = |asked: &Asked| asked.named == Some(times);
        let times = match items.iter().all(as_many) {
            true => 1,
            false => times,
        };
        let confirmed = self.confirmed.get(&aside.row).copied();
        self.repeats.insert(aside.row, confirmed.unwrap_or(times));
        for mut asked in items {
            if confirmed.is_none() {
                asked.doubts.push(Doubt::Said(
                    format!(
                        "\"{}\": line {} again, {}: to confirm or change that, write repeats = {{ {} = {times} }} beside this file in the job file",
                        aside.text,
                        asked.row,
                        match times {
                            1 => "once".to_owned(),
                            _ => format!("{times} times"),
                        },
                        aside.row,
                    )
                    .into(),
                ));
            }
            asked.row = aside.row;
            asked.text.clone_from(&aside.text);
            asked.place.clone_from(&said.place);
            asked.places = asked.places.saturating_mul(confirmed.unwrap_or(times));
            if confirmed != Some(0) {
                self.asked.push(asked);
            }
        }
        self.repeated = again;
        self.since = self.asked.len();
        self.joint = self.asked.len();
    }
}

/// True for words in front of the work that is to be done at several: `Make four frames like this:`, `Do the following at
/// each post.` Common practice, no source.
pub(super) fn is_preface(said: &Sentence) -> bool {
    static FOLLOWS: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)\b(?:as follows|like this|(?:in )?(?:the following|this) (?:way|manner)|the following|(?:the|these) (?:next )?steps(?: below)?|the steps below)\b",
        )
    });
    static SEVERAL: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)\b(?:[2-9]|[1-9]\d|two|three|four|five|six|seven|eight|nine|ten|twelve|each|every|both|all|twice|times|pair)\b",
        )
    });
    let first = said
        .calls
        .first()
        .map_or(said.text.len(), |call| call.at.start);
    let front = &said.text[..first];
    let names = |behind: &str| {
        let next = behind.split_whitespace().next().unwrap_or_default();
        ["stage", "step", "section", "page", "figure", "picture"].contains(&next)
    };
    let mut follows = FOLLOWS.find_iter(front);
    said.places == 1
        && follows.any(|found| !names(&front[found.end()..]))
        && SEVERAL.is_match(front)
}

/// The doubt of pieces that a sentence beside them makes needed now and then.
pub(super) fn may_be_needed(text: &str) -> Doubt {
    Doubt::Said(format!("\"{text}\": may say when they are needed: taken as needed").into())
}

/// How far a sentence without hardware says that what follows may not be needed: `Optional.`, `This stage is optional.`,
/// `You can skip this step.` Common practice, no source.
pub(super) fn makes_optional(said: &Sentence) -> Option<Within> {
    static SKIPS: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)\boptional\b|\bskip (?:this|the next) \w+|\bnot have to \w+ this\b|\bonly \w+ this \w+ (?:if|when|where)\b",
        )
    });
    let is_said = said.calls.is_empty() && SKIPS.is_match(&said.text);
    let stages = ["this stage", "this step", "this section"];
    let text = said.text.to_lowercase();
    let of_stage = stages.iter().any(|stage| text.contains(stage));
    // `The following is optional:`
    let leads = text.trim_end().ends_with(':');
    is_said.then_some(match of_stage || leads {
        true => Within::Stage,
        false => Within::Paragraph,
    })
}

/// `six of them`: of those that were called for.
fn is_of_them(text: &str) -> bool {
    [" of them", " of these", " of those"]
        .iter()
        .any(|of| text.contains(of))
}

/// True for a sentence that joins what the one before speaks of: `Join them with four bolts.`
pub(super) fn joins_them(text: &str) -> bool {
    [" them ", " together", " each other", " one another"]
        .iter()
        .any(|them| text.contains(them))
}

/// True for pieces that a sentence calls for.
fn is_wanted(asked: &Asked) -> bool {
    asked.callout.is_ok() && asked.usage != Some(Usage::Reference)
}

/// The number of a stage, from its title: `4B` of `Step 4B - Rails`.
pub fn stage_number(title: &str) -> Option<&str> {
    title
        .split(|c: char| !c.is_ascii_alphanumeric())
        .find(|word| word.starts_with(|c: char| c.is_ascii_digit()))
}
