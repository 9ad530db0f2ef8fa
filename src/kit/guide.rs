//! An assembly guide in prose: lines to sentences, and what a stage's sentences ask for together.

mod announced;
mod asked;
mod earlier;
mod fates;
mod listed;
mod mention;
mod paragraph;
mod prose;
mod repetition;
mod restated;
mod scale;
mod sequence;
mod telling;
mod tightened;
mod twins;
mod usage;
mod whereabouts;

use std::{collections::BTreeMap, ops::Range, sync::LazyLock};

use regex::Regex;
use rustc_hash::FxHashMap;

use self::{
    announced::{announced, hold_against_announced},
    earlier::named_as_known,
    listed::wanted,
    mention::{BySize, Part},
    paragraph::{cut_at, sentences},
    prose::{announces, begins_list, counts_hardware, runs_on, words},
    repetition::{is_preface, joins_them, makes_optional, may_be_needed},
    restated::{ask_of_restated, ask_of_stated},
    sequence::sequence,
    telling::{MOST_NEAR, torques_of},
    tightened::{TorqueKey, names_no_place, without_torques},
    twins::{Twin, twin_within},
    usage::{is_put_in, usage},
    whereabouts::Whereabouts,
};
pub use self::{
    asked::Asked,
    earlier::{Earlier, ask_of_earlier, is_known},
    listed::{Listed, hold_against},
    prose::{acts, is_prose, is_side, without_step},
    repetition::stage_number,
    scale::is_for_one,
    telling::{is_on_the_way, may_be_for},
    tightened::{ToldTorque, is_bolt},
    twins::{builds, twin_of},
};
use super::{reading::MOST_ITEMS, usage::Usage};
use crate::{
    Doubt,
    hardware::{Item, Kind},
    notation::{
        self, Again, Before, Bolts, Call, NO_MORE_SAID, Naming, Notation, again, is_likened, lend,
        makes_several, sentence, sentence_after,
    },
    words::pattern,
};

/// A shorter line is not wrapped: what stands on the next is no more of its sentence, unless it plainly runs
/// on (common practice, no source).
const NARROW: usize = 36;

/// Why a sentence of a torque goes aside.
const OF_NOTHING: &str = "a torque, and no hardware in its stage that it is of";

/// A guide being read: the paragraph so far, and what the stage's sentences have asked for.
#[derive(Debug, Default)]
pub struct Guide {
    paragraph: Vec<(u32, String)>,
    /// The paragraphs of the stage: each a list of its sentences, with the lines on which they start.
    paragraphs: Vec<Vec<(u32, String)>>,
    /// The numbers in front of the stage's sentences, and their rows: `1. Fit two bolts.`
    pub steps: Vec<(u32, u32)>,
    /// Rows that were taken as prose since they were last handed on.
    pub rows: Vec<u32>,
    /// The title of the stage being read.
    pub title: String,
    /// How often sentences repeat what stands before them, as the job confirms it, by the line on
    /// which they start.
    confirmed: BTreeMap<u32, u32>,
    /// How often sentences that repeat were taken to, by the line on which they start.
    pub repeats: BTreeMap<u32, u32>,
    asked: Vec<Asked>,
    /// What a sentence says of those that follow.
    preface: Option<Preface>,
    /// A sentence without hardware that builds a thing like one before it.
    twin: Option<Twin>,
    /// A sentence that builds another of what stages before have built.
    pub whole_again: Option<String>,
    /// What says of the stage that its figures are for one of several.
    for_one: Option<String>,
    /// Rows that say of what stands below when it is needed.
    pub ways: Vec<u32>,
    /// Up to the stage of that number others are passed over in some case, by this sentence.
    skipped: Option<(u32, String)>,
    /// A line below the sentences that may name more places for them, until another follows.
    pub places_below: Option<String>,
    /// Rows of the stage with a bullet or number in front.
    bulleted: Vec<u32>,
    /// Rows that begin a sentence, though no stop stands above.
    begun: Vec<u32>,
    by_size: BySize,
    /// The first line of the last joint.
    joint: usize,
    /// What a repetition repeats: from here on, or, where nothing came since the last, that again.
    since: usize,
    repeated: Range<usize>,
    /// The first line of the paragraph.
    paragraph_from: usize,
    /// Up to which line a torque was given to all of the stage's pieces that it names.
    torqued: FxHashMap<TorqueKey, usize>,
    /// Torques that were named before anything was there that they may be of.
    untold: Vec<ToldTorque>,
    /// Torques of the stage that nothing in its sentences is of.
    pub torques: Vec<ToldTorque>,
    /// Torques of all that is of a size, in whatever stage.
    pub torques_by_size: Vec<ToldTorque>,
    /// Torques of all, named when other work is done, and where the lines of their stage begin.
    pub at_the_end: Vec<(usize, ToldTorque)>,
    /// What the guide tells of how many of a thing there are.
    before: Before,
    /// Where the lines begin that sentences ask for.
    pub first_line: Option<usize>,
    /// What sentences of the stage say of the lists below them.
    pub leads: Vec<Lead>,
}

/// What a sentence says of those that follow: `Make four frames like this:`, `This step is optional.`
#[derive(Debug)]
struct Preface {
    text: String,
    within: Within,
    says: Prefaced,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Prefaced {
    /// They may be for each of several.
    Several,
    /// They may not be needed.
    Optional,
    /// It is one way of several, of which the others are not needed.
    Way,
}

/// A sentence in front of more steps says nothing of the last (common practice, no source).
const MOST_LED: usize = 100;

/// How far what a sentence says in front goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Within {
    Stage,
    Paragraph,
}

/// True for a sentence that puts hardware to use of which it says neither count nor size: `with the contents of bag 4`,
/// `with suitable fixings`, `Anchors are by others.` Common practice, no source.
fn names_unsaid(text: &str) -> bool {
    static UNSAID: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) \b (?: with | using ) \s (?: [a-z]+ \s ){0,5}? (?: bag | packet ) \s [a-z0-9]{1,3} \b
              | \b (?: with | using ) \s (?: [a-z]+ \s ){0,3}? (?: fixings | fasteners | hardware ) \b
              | \b (?: anchors | fixings | fasteners | bolts | screws ) \s (?: are | is ) \s (?: supplied \s )? by \s (?: others | the | your ) \b",
        )
    });
    UNSAID.is_match(text)
}

/// True for words in front of a list that say what it is for: `For the top:`, `On both sides:`.
fn leads_in(text: &str) -> bool {
    let first = words(text).next().unwrap_or_default();
    text.ends_with(':') && prose::PLACING.contains(&&*first)
}

/// The doubt of what stands below words that say when it is needed.
pub fn one_way(text: &str) -> Doubt {
    Doubt::HowMany(format!("\"{text}\" may say when they are needed: taken as needed").into())
}

/// What a sentence says of what stands below it: `For each post use:`.
#[derive(Debug)]
pub struct Lead {
    /// The rows that a list right below it may stand in: from its own to the next sentence's.
    pub rows: Range<u32>,
    /// The words of it.
    pub text: String,
    /// The first row behind the sentences that it is of: those with a bullet, or the first paragraph.
    pub end: u32,
    /// The rows of them that bear a bullet; none where it is of a paragraph.
    pub bulleted: Vec<u32>,
    pub places: u32,
    pub doubts: Vec<Doubt>,
}

impl Guide {
    /// A guide of which nothing is read yet. `confirmed`: [`super::Input::repeats`].
    pub fn new(confirmed: BTreeMap<u32, u32>) -> Guide {
        Guide {
            confirmed,
            ..Guide::default()
        }
    }

    /// A line that the job confirms to repeat, and on which no sentence that repeats starts; and the
    /// lines on which such do.
    pub fn idle_repeat(&self) -> Option<(u32, &BTreeMap<u32, u32>)> {
        let idle = |row: &&u32| !self.repeats.contains_key(row);
        let row = self.confirmed.keys().find(idle)?;
        Some((*row, &self.repeats))
    }

    /// The first things that its sentences count, by their nouns.
    pub fn things(&self) -> Vec<(&str, &str)> {
        self.before.things()
    }

    /// True where sentences of the stage stand above.
    pub fn has_sentences(&self) -> bool {
        !self.paragraph.is_empty() || !self.paragraphs.is_empty()
    }

    /// Takes back the last line of the sentences above where it stands alone, is short and has no stop: `Assemble the base`.
    /// `begins`: it may be the first of its stage.
    pub fn title_above(&mut self, begins: bool) -> Option<(u32, String)> {
        const WORDS: usize = 6;
        let alone = |paragraph: &mut Vec<(u32, String)>| {
            let [(_, text)] = &**paragraph else {
                return false;
            };
            let plain = |c: char| c.is_alphabetic() || c == ' ' || c == '-';
            // `Repeat for the other side`
            let asks = || {
                let said = sentence(text, Notation::default());
                said.repeat.is_some() || !said.calls.is_empty() || again(text).is_some()
            };
            text.chars().all(plain)
                && text.starts_with(char::is_uppercase)
                && text.split(' ').count() <= WORDS
                && !asks()
        };
        if !begins && self.paragraphs.len() < 2 {
            return None;
        }
        self.paragraphs.pop_if(alone)?.pop()
    }

    /// True where the last line of the sentences above ends one.
    pub fn is_closed(&self) -> bool {
        let last = self
            .paragraph
            .last()
            .or(self.paragraphs.last().and_then(|all| all.last()));
        last.is_some_and(|(_, text)| text.ends_with(['.', '!']))
    }

    /// Takes a line of text if it is prose: one that begins a sentence, or goes on with one.
    /// `fresh`: a bullet or number stands in front, so that it goes on with none.
    pub fn takes(&mut self, row: u32, text: &str, fresh: bool) -> bool {
        let goes_on = !fresh
            && self.open_line().is_some_and(|(_, last)| {
                // `Hardware needed: 12 M10 x 70 bolts` over `Bolt each of the four feet ...`
                let labelled = last
                    .split_once(": ")
                    .is_some_and(|(label, _)| announces(label));
                let apart = labelled && text.starts_with(char::is_uppercase) && is_prose(text);
                (last.len() >= NARROW || runs_on(last, text)) && !begins_list(last, text) && !apart
            });
        // `The other post likewise.`, `Final torque 20 N·m.`
        let tells = || {
            let closed = text.ends_with('.') || is_likened(text);
            let said =
                (self.has_sentences() && closed).then(|| sentence(text, Notation::default()));
            let again = || matches!(again(text), Some(Again::Times(_) | Again::Open));
            said.is_some_and(|said| {
                let tells = said.repeat.is_some() || !said.torques.is_empty() || again();
                let may = is_likened(text) && notation::again(text).is_some();
                !said.too_long && said.calls.is_empty() && (tells || may)
            }) || is_for_one(text)
                || (self.has_sentences() && text.ends_with('.') && names_unsaid(text))
        };
        if !goes_on && !is_prose(text) && !counts_hardware(text) && !tells() {
            self.end_paragraph();
            return false;
        }
        let apart = self
            .paragraph
            .last()
            .is_some_and(|(last, _)| row > last + 1);
        if fresh {
            self.bulleted.push(row);
        }
        let open = self.open_line().is_some();
        // `For the top:` ends the list above it.
        let last = self.paragraph.last().map(|(last, _)| last);
        let listed = last.is_some_and(|last| self.bulleted.last() == Some(last));
        let leads = listed && !goes_on && text.ends_with(':');
        if fresh || leads || (apart && !goes_on) {
            self.end_paragraph();
        } else if open && !goes_on && text.starts_with(char::is_uppercase) {
            self.begun.push(row);
        }
        self.places_below = None;
        self.go_on(row, text);
        true
    }

    /// Takes a line that says of what stands below it when that is needed.
    pub fn take_way(&mut self, row: u32, text: &str) {
        self.end_paragraph();
        self.ways.push(row);
        self.go_on(row, text);
        self.end_paragraph();
    }

    /// The first sentence of the stage, and the line on which it starts.
    pub fn first_sentence(&self) -> Option<&(u32, String)> {
        let first = self.paragraphs.iter().find_map(|all| all.first());
        first.or(self.paragraph.first())
    }

    /// Takes a line of the paragraph.
    pub fn go_on(&mut self, row: u32, text: &str) {
        self.paragraph.push((row, text.trim().to_owned()));
        self.rows.push(row);
    }

    /// The last line of the paragraph, where it ends no sentence.
    fn open_line(&self) -> Option<&(u32, String)> {
        let ends = ['.', '!', '?', ':'];
        self.paragraph
            .last()
            .filter(|(_, last)| !last.ends_with(ends))
    }

    /// True where a line stands right below an open sentence, and may go on with it or be a list's.
    pub fn is_open_above(&self, row: u32, text: &str) -> bool {
        self.open_line().is_some_and(|(above, last)| {
            let goes_on = last.len() >= NARROW || runs_on(last, text);
            above + 1 == row && !is_prose(text) && (!goes_on || begins_list(last, text))
        })
    }

    /// Cuts the paragraph that was taken into its sentences.
    pub fn end_paragraph(&mut self) {
        if self.paragraph.is_empty() {
            return;
        }
        let mut text = String::new();
        let mut starts = BTreeMap::new();
        for (row, line) in self.paragraph.drain(..) {
            // `nylon-` over `insert nuts`
            let in_word = text.ends_with('-')
                && line.starts_with(char::is_lowercase)
                && text.trim_end_matches('-').ends_with(char::is_alphabetic);
            if !text.is_empty() && !in_word {
                text.push(' ');
            }
            starts.insert(text.len(), row);
            text.push_str(&line);
        }
        let begun: Vec<usize> = (starts.iter())
            .filter(|(_, row)| self.begun.binary_search(row).is_ok())
            .map(|(at, _)| *at)
            .collect();
        self.begun.clear();
        let sentences = cut_at(sentences(&text), &begun).into_iter().map(|range| {
            let start = starts.range(..=range.start).next_back();
            let row = start.map_or(0, |(_, &row)| row);
            (row, text[range].trim().to_owned())
        });
        self.paragraphs.push(sentences.collect());
    }

    /// All that the stage asks for; a new stage begins.
    pub fn end_stage(&mut self, notation: Notation) -> Vec<Asked> {
        self.end_paragraph();
        let paragraphs = std::mem::take(&mut self.paragraphs);
        let sentences = paragraphs.iter().flatten();
        let sentences = sentences.map(|(row, text)| (*row, text.as_str()));
        self.before.begin_stage(&self.title, sentences);
        self.joint = 0;
        self.paragraph_from = 0;
        self.since = 0;
        self.repeated = 0..0;
        self.torqued.clear();
        self.preface = self.skipped_here();
        self.for_one = Some(self.title.clone()).filter(|title| is_for_one(title));
        for paragraph in &paragraphs {
            self.paragraph_from = self.asked.len();
            self.before.sentence = None;
            self.preface
                .take_if(|preface| preface.within == Within::Paragraph);
            for (i, (row, text)) in paragraph.iter().enumerate() {
                self.before.next = paragraph.get(i + 1).cloned();
                let (from, twin) = (self.asked.len(), self.twin.take());
                self.sentence(*row, text, notation);
                if let Some(twin) = twin {
                    let next = (self.asked.len() > from).then_some(&**text);
                    self.end_twin(twin, next);
                }
                self.before.sentence = Some((*row, text.clone()));
            }
        }
        if let Some(twin) = self.twin.take() {
            self.end_twin(twin, None);
        }
        if let Some(text) = self.places_below.take() {
            self.may_repeat(&text);
        }
        self.end_leads(&paragraphs);
        self.end_torques();
        let mut asked = std::mem::take(&mut self.asked);
        for one in &mut asked {
            self.ask_for_each(one);
        }
        if let Some(text) = self.for_one.take() {
            let said =
                format!("\"{text}\": the figures may be for one of several; taken as in all");
            let wanted = asked.iter_mut().filter(|one| wanted(one).is_some());
            wanted.for_each(|one| one.doubts.push(Doubt::HowMany(said.as_str().into())));
        }
        self.ways.clear();
        self.by_size = BySize::default();
        self.steps.clear();
        hold_against_announced(&mut asked, &self.title);
        ask_of_restated(&mut asked, &self.title);
        ask_of_stated(&mut asked, &self.title);
        asked
    }

    /// Keeps a sentence by which stages are passed over in some case: `Go to stage 3 if you have no brace.`
    fn note_skipped(&mut self, text: &str) {
        static SKIPS: LazyLock<Regex> = LazyLock::new(|| {
            pattern(
                r"(?ix) \b (?: go | skip | continue | proceed | jump | move | turn ) \b [^.;]{0,30}? \b (?: stage | step | section ) \s (?P<to> \d{1,3} ) \b",
            )
        });
        const WHEN: &[&str] = &["if", "unless", "when", "where", "without"];
        let Some(found) = SKIPS.captures(text) else {
            return;
        };
        let here = stage_number(&self.title).and_then(|number| number.parse().ok());
        let to = found["to"].parse::<u32>().ok();
        if let (Some(here), Some(to)) = (here, to)
            && to > here
            && !self.steps.iter().any(|(step, _)| *step == to)
            && words(text).any(|word| WHEN.contains(&&*word))
        {
            self.skipped = Some((to, text.to_owned()));
        }
    }

    /// `In stage 2 you will add two bolts.`, in another stage
    fn tells_of_stage(&self, text: &str) -> Option<Doubt> {
        static OF_STAGE: LazyLock<Regex> = LazyLock::new(|| {
            pattern(
                r"(?i)^\W*(?:later,? )?(?:in|at|during|for|until) (?:stage|step|section) (?P<number>\d{1,3})\b",
            )
        });
        let number = OF_STAGE.captures(text)?.name("number")?.as_str();
        let other = stage_number(&self.title) != Some(number)
            && !self
                .steps
                .iter()
                .any(|(step, _)| number.parse() == Ok(*step));
        other.then(|| {
            let said =
                format!("it tells of stage {number}, which may call for them, too; taken as more");
            Doubt::OrElse {
                pieces: 0,
                said: said.into(),
            }
        })
    }

    /// What a stage before says of this one, where it may be passed over.
    fn skipped_here(&mut self) -> Option<Preface> {
        let here: u32 = stage_number(&self.title)?.parse().ok()?;
        let text = self
            .skipped
            .take_if(|(to, _)| *to > here)
            .map(|(to, text)| {
                self.skipped = Some((to, text.clone()));
                text
            })?;
        Some(Preface {
            text,
            within: Within::Stage,
            says: Prefaced::Way,
        })
    }

    /// `Assemble each frame with four bolts. Then brace it with two.`: what goes on with one thing of those before it, and
    /// names no other.
    fn goes_on_with_each(&self, text: &str, places: u32) -> Option<Doubt> {
        const LEADS: &[&str] = &["then", "next", "now", "also", "finally"];
        let goes_on = words(text)
            .next()
            .is_some_and(|first| LEADS.contains(&&*first));
        let of_it = || words(text).any(|word| ["it", "its"].contains(&&*word));
        let last = self.asked[self.paragraph_from.min(self.asked.len())..].last()?;
        let for_each = last.places > 1
            && words(&last.text).any(|word| ["each", "every", "both"].contains(&&*word));
        let same = places == 1 && (goes_on || of_it()) && Whereabouts::of(text).is_nowhere();
        (for_each && same).then(|| {
            let said = format!(
                "line {} is for {} places: this may be for each of them; taken once",
                last.row, last.places
            );
            Doubt::HowMany(said.into())
        })
    }

    /// `An arm is held by four screws.`, where the stage tells of three arms.
    fn ask_for_each(&self, one: &mut Asked) {
        let is_asked = one.doubts.iter().any(Doubt::is_of_how_many);
        // `Each end of a rail takes two bolts.`
        let of_one = [" of a ", " of an "].iter().any(|of| one.text.contains(of));
        if is_asked || (one.places > 1 && !of_one) || wanted(one).is_none() {
            return;
        }
        if let Some(told) = self.before.several_of(&one.text) {
            let said = format!(
                "\"{}\" in line {}: the pieces may be for each or in all; taken as in all",
                told.words, told.row
            );
            one.doubts.push(Doubt::HowMany(said.into()));
        }
    }

    /// A lead is of the list right below it: it ends its paragraph, and no other stands between.
    fn end_leads(&mut self, paragraphs: &[Vec<(u32, String)>]) {
        let starts: Vec<u32> = paragraphs
            .iter()
            .filter_map(|sentences| Some(sentences.first()?.0))
            .collect();
        let bulleted = std::mem::take(&mut self.bulleted);
        let is_bulleted = |row: &u32| bulleted.binary_search(row).is_ok();
        for lead in &mut self.leads {
            let below = starts.partition_point(|start| *start <= lead.rows.start);
            let below = &starts[below..];
            lead.rows.end = below.first().copied().unwrap_or(u32::MAX);
            let listed = below.iter().take_while(|row| is_bulleted(row));
            let listed: Vec<u32> = listed.take(MOST_LED).copied().collect();
            let end = below.get(listed.len().max(1));
            lead.end = end.copied().unwrap_or(u32::MAX);
            lead.bulleted = listed;
        }
    }

    fn sentence(&mut self, row: u32, text: &str, notation: Notation) {
        let next = self.before.next.as_ref().map(|(_, next)| next.as_str());
        // `The two frames are alike. Each is made with ...` repeats nothing.
        let is_last = next.is_none();
        let tells = ["Each ", "For each "]
            .iter()
            .any(|each| next.is_some_and(|next| next.starts_with(each)));
        self.before.row = row;
        self.before.bolts = self.bolts();
        let mut said = sentence_after(&self.before, text, notation);
        let named = said.named.as_ref().map(|told| told.number);
        self.before.note(said.named.take());
        let asked = |callout| Asked {
            row,
            text: text.to_owned(),
            phrase: String::new(),
            callout,
            usage: None,
            torque: None,
            place: None,
            option: None,
            sequence: sequence(text),
            places: 1,
            named,
            doubts: Vec::new(),
            removed: false,
            known: false,
            announced: None,
        };
        let not_read = match () {
            () if said.too_long => Some("longer than any sentence"),
            () if said.calls.len() > MOST_ITEMS => Some("so many items are no sentence of a guide"),
            () => None,
        };
        if let Some(why) = not_read {
            self.asked.push(asked(Err(why)));
            return;
        }
        let told = usage(&said, text);
        let announced = match told.usage.is_none() && !told.removed {
            true => announced(
                &said,
                self.before.next.as_ref().map(|(_, next)| next.as_str()),
            ),
            false => None,
        };
        let twin = twin_within(&said).filter(|_| !said.doubts.iter().any(Doubt::is_of_how_many));
        let twin = twin.map(|clause| {
            let said = format!("\"{clause}\" may ask for it again: taken once");
            Doubt::HowMany(said.into())
        });
        let mut doubts = std::mem::take(&mut said.doubts);
        doubts.extend(twin);
        // `Assemble the three frames one by one: join ...`
        let first = said.calls.first().map_or(text.len(), |call| call.at.start);
        let front = match said.text.get(..first).and_then(|front| front.rfind(':')) {
            Some(colon) => &said.text[..colon],
            None if said.calls.is_empty() => text,
            None => "",
        };
        let begins = self.asked.len() == self.paragraph_from;
        let preface = |within, says| Preface {
            text: text.to_owned(),
            within,
            says,
        };
        if self.ways.binary_search(&row).is_ok() {
            self.preface = Some(preface(Within::Stage, Prefaced::Way));
            return;
        }
        // `Do this for both side frames.` in front of what is done
        let ahead = || {
            const DOES: &[&str] = &["do", "repeat", "carry", "perform", "follow"];
            let points = matches!(again(text), Some(Again::Times(_) | Again::Open));
            let does = words(text)
                .next()
                .is_some_and(|first| DOES.contains(&&*first));
            points && does && self.asked.is_empty() && said.torques.is_empty()
        };
        if is_preface(&said) || ahead() {
            self.preface = Some(preface(Within::Stage, Prefaced::Several));
        } else if begins && makes_several(front) {
            // `Assemble two frames:` over a list of sentences
            let within = match text.ends_with(':') {
                true => Within::Stage,
                false => Within::Paragraph,
            };
            self.preface = Some(preface(within, Prefaced::Several));
        } else if let Some(within) = makes_optional(&said) {
            self.may_be_optional(text, within);
            self.preface = Some(preface(within, Prefaced::Optional));
        }
        if said.calls.is_empty() && is_for_one(text) {
            self.for_one = Some(text.to_owned());
        }
        self.note_skipped(text);
        // `Remove the cap and fit four bolts.`
        let says = said.text.clone();
        let is_new = |call: &Call| told.takes_out() && is_put_in(&says, call.at.start);
        let usage_of = |call: &Call| match is_new(call) {
            true => None,
            false => told.of_kind(call.callout.item.kind).0,
        };
        // `For each post use:`
        if said.calls.is_empty() && is_last && (said.places > 1 || !doubts.is_empty()) {
            self.leads.push(Lead {
                rows: row..u32::MAX,
                text: text.to_owned(),
                end: u32::MAX,
                bulleted: Vec::new(),
                places: said.places,
                doubts: std::mem::take(&mut doubts),
            });
        }
        let calls = std::mem::take(&mut said.calls);
        let (mut known, mut new): (Vec<Call>, Vec<(Call, Option<Doubt>)>) = Default::default();
        self.by_size.take_in(&self.asked);
        for call in calls {
            match self.role(&call, usage_of(&call), &new) {
                Part::Mention => known.push(call),
                Part::Wanted(doubt) => new.push((call, doubt)),
            }
        }
        let names = |kind: &Kind| {
            let is =
                |call: &Call| call.naming == Naming::Known && call.callout.item.kind == Some(*kind);
            known.iter().any(is)
        };
        let small: Vec<Kind> = [Kind::Nut, Kind::Washer]
            .into_iter()
            .filter(names)
            .collect();
        self.tell_taken_out(text);
        let counts = |call: &Call| call.callout.quantity.is_some();
        if said.unread.is_none()
            && new.is_empty()
            && !known.iter().any(counts)
            && names_unsaid(text)
        {
            said.unread = Some(NO_MORE_SAID);
        }
        if new.is_empty()
            && let Some(why) = said.unread
        {
            self.asked.push(asked(Err(why)));
            return;
        }
        if new.is_empty() {
            self.ask_for_small(&small, text);
            self.tell_torques(&said, &known, &asked(Err(OF_NOTHING)), notation);
            let is_put_back = self.tell_put_back(text, false);
            self.tell_use(text, told.usage);
            if let Some(sequence) = sequence(text) {
                for asked in self.asked.iter_mut().skip(self.joint) {
                    asked.sequence = Some(sequence);
                }
            }
            if known.is_empty() && self.builds_whole_again(text) {
                self.whole_again = Some(text.to_owned());
            }
            if !tells && !is_put_back {
                let again = || {
                    let text = without_torques(&said);
                    let bare = !said.torques.is_empty() && names_no_place(&text);
                    let repeats = !bare && known.is_empty() && !leads_in(&text);
                    again(&text).filter(|_| repeats && self.has_items())
                };
                match (said.repeat, again()) {
                    (None, Some(Again::Times(times)))
                        if self.is_done_for(times + 1) && !self.is_of_another(text) => {}
                    (Some(1) | None, Some(Again::Times(times))) => {
                        self.repeat(&said, named.unwrap_or(times), asked(Err("")));
                    }
                    (Some(times), _) => self.repeat(&said, times, asked(Err(""))),
                    (None, Some(Again::Open)) => self.may_repeat(text),
                    (None, again) if known.is_empty() && said.torques.is_empty() => {
                        self.may_go_on(&said, again, asked(Err("")));
                        if again.is_none() {
                            self.note_twin(text);
                        }
                    }
                    (None, _) => {}
                }
            }
            return;
        }
        doubts.extend(self.tells_of_stage(text));
        let stage = said.for_stage.as_deref();
        let elsewhere = |_: &&str| stage != stage_number(&self.title) && !told.takes_out();
        if let Some(stage) = stage.filter(elsewhere) {
            doubts.push(Doubt::Said(
                format!("for step {stage}, which may call for them again: taken as new here")
                    .into(),
            ));
        }
        if said.repeat.is_some() {
            doubts.push(Doubt::Said(
                format!("\"{text}\" repeats and names items: only the named ones were taken")
                    .into(),
            ));
        }
        self.tell_others(&mut said, &new, &known, &asked(Err(OF_NOTHING)), notation);
        if !told.takes_out() {
            self.tell_put_back(text, true);
        }
        let torques = torques_of(&said, &new, &known).unwrap_or_else(|open| {
            doubts.push(open);
            Vec::new()
        });
        doubts.extend(said.torque_doubt.take());
        // `Build two frames. Join them with four bolts.`
        let of_all =
            said.places > 1 || joins_them(text) || doubts.iter().any(Doubt::is_of_how_many);
        let is_open = |preface: &&Preface| {
            preface.says != Prefaced::Several || preface.within == Within::Stage || !of_all
        };
        doubts.extend(self.preface.as_ref().filter(is_open).map(|preface| {
            let text = &preface.text;
            match preface.says {
                Prefaced::Optional => may_be_needed(text),
                Prefaced::Several => Doubt::HowMany(
                    format!("\"{text}\": it may be for each of them; taken once").into(),
                ),
                Prefaced::Way => one_way(text),
            }
        }));
        doubts.extend(self.goes_on_with_each(text, said.places));
        let mut torques = torques.into_iter();
        let before = self.last_bolt();
        self.joint = self.asked.len();
        for (call, mention) in new {
            let is_new = is_new(&call);
            let (mut usage, removed, own) = match is_new {
                true => Default::default(),
                false => told.of_kind(call.callout.item.kind),
            };
            let is_waste = told.is_waste() && usage == told.usage;
            let mut callout = call.callout;
            let mut doubts = [own, doubts.clone()].concat();
            // Of what is done away with, nobody needs to know the size, nor how it is called.
            if is_waste && !is_new {
                callout.doubts.clear();
                doubts.clear();
            }
            if let Some(doubt) = mention {
                doubts.push(doubt);
                usage = Some(Usage::Reference);
            }
            // `four of the 5/8 x 6 bolts from bag C` may be of those that came before.
            let from = call.naming == Naming::Some && says[call.at.end..].starts_with(" from ");
            self.by_size.take_in(&self.asked);
            let driven = usage.is_none() && self.is_first(call.naming, &callout) && !from;
            if call.naming != Naming::New && usage.is_none() && !driven {
                doubts.push(named_as_known());
            }
            let small = matches!(callout.item.kind, Some(Kind::Nut | Kind::Washer));
            if small
                && callout.item.diameter.is_none()
                && let Some((bolt, row)) = &before
            {
                lend(&mut callout, bolt);
                // What goes on each of them has their size.
                if !said.on_bolts {
                    doubts.push(Doubt::Said(
                        format!("no size stated: taken from the bolt of line {row}").into(),
                    ));
                }
            }
            self.asked.push(Asked {
                usage,
                torque: torques.next().flatten(),
                place: said.place.clone(),
                option: said.option.as_ref().map(ToString::to_string),
                places: call.places,
                doubts,
                removed,
                known: driven,
                announced,
                phrase: said.text[call.at.clone()].trim().to_owned(),
                ..asked(Ok(callout))
            });
        }
        self.ask_for_small(&small, text);
    }

    /// `Insert four bolts and tighten the nuts.`: doubts the bolts where none is called for before in the stage.
    fn ask_for_small(&mut self, kinds: &[Kind], text: &str) {
        let is = |asked: &Asked, kind| {
            let callout = asked.callout.as_ref();
            callout.is_ok_and(|callout| callout.item.kind == Some(kind))
        };
        let from = self.asked.len().saturating_sub(MOST_NEAR);
        let near = &mut self.asked[from..];
        for &kind in kinds {
            if near.iter().any(|asked| is(asked, kind)) {
                continue;
            }
            let mut bolts = near.iter_mut().filter(|asked| is(asked, Kind::Bolt));
            if let Some(bolt) = bolts.next_back().filter(|bolt| bolt.usage.is_none()) {
                let said = format!("\"{text}\": its {kind}s are called for nowhere in this stage");
                bolt.doubts.push(Doubt::HowMany(said.into()));
            }
        }
    }

    /// The bolts of the last joint, where it has one kind of them.
    fn bolts(&self) -> Option<Bolts> {
        let is_bolt = |asked: &&Asked| {
            let kind = asked.callout.as_ref().map(|callout| callout.item.kind);
            let long = matches!(
                kind,
                Ok(Some(Kind::Bolt | Kind::Screw | Kind::Rod | Kind::Anchor))
            );
            long && asked.usage.is_none()
        };
        let mut all = self.asked[self.joint..].iter().filter(is_bolt);
        let (one, None) = (all.next()?, all.next()) else {
            return None;
        };
        let callout = one.callout.as_ref().ok()?;
        let pieces = callout.quantity?.pieces * u64::from(one.places);
        Some(Bolts {
            pieces: u32::try_from(pieces).ok()?,
            kind: callout.item.kind?,
            diameter: callout.item.diameter,
            sure: one.doubts.is_empty() && callout.doubts.is_empty(),
            row: one.row,
            near: self.joint >= self.paragraph_from,
        })
    }

    fn last_bolt(&self) -> Option<(Item, u32)> {
        self.asked.iter().rev().find_map(|asked| {
            let item = &asked.callout.as_ref().ok()?.item;
            let bolt = item.kind.is_some_and(Kind::is_long);
            (bolt && item.diameter.is_some()).then(|| (item.clone(), asked.row))
        })
    }
}
