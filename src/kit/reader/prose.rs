//! The prose of a guide, among the lines of a text.

use std::{collections::BTreeMap, ops::Range};

use super::{
    super::{
        guide::{
            Asked, Earlier, Listed, ask_of_earlier, builds, hold_against, is_known, is_prose,
            twin_of, without_step,
        },
        line::{Aside, Line, LineStatus, More, What},
        open::Open,
        reading::Reading,
        role::Role,
        text::TextAt,
        usage::Usage,
    },
    Reader,
    in_the_box::of_head,
    last_list::OfSentences,
    lines::bagged,
    titles,
};
use crate::{
    Doubt,
    columns::{Layout, Meaning, furniture, talk},
    notation::{Call, NO_MORE_SAID, sentence},
    source::{Format, Row},
};

/// So many lines below an open sentence that may be a list's are held, and no more.
const MOST_RUN_ON: usize = 16;

/// True for a sentence, be it behind the number of its stage.
fn is_sentence(text: &str) -> bool {
    is_prose(step_and_sentences(text).map_or(text, |(_, rest)| rest))
}

/// A stage by its number, with its name or without, and the sentences behind it.
fn step_and_sentences(text: &str) -> Option<(&str, &str)> {
    let named = furniture::named_step_and_rest(text).filter(|(_, rest)| is_prose(rest));
    named.or_else(|| furniture::step_and_rest(text))
}

impl Reader<'_> {
    /// Takes a line of a guide's prose.
    pub(super) fn take_prose(&mut self, row: &Row) -> bool {
        if self.list.role != Role::Required || self.list.format != Format::Text {
            return false;
        }
        if self.take_way(row) {
            return true;
        }
        let mut text = std::mem::take(&mut self.line);
        row.join_into(&mut text);
        if let Some(at) = furniture::next_stage(&text).filter(|at| self.is_in_sentences(&text, *at))
        {
            let (first, rest) = text.split_at(at);
            self.take_piece(row.number, first.trim_end());
            // It is counted with the last of them.
            self.guide.rows.pop_if(|last| *last == row.number);
            self.take_piece(row.number, rest);
            if self.guide.rows.last() != Some(&row.number) {
                self.guide.rows.push(row.number);
            }
            return true;
        }
        // A heading names no pieces: `Stage 2 takes four 5/8 x 6 hex bolts.` is a sentence.
        let is_heading = furniture::markdown_heading(&text).is_some()
            || (furniture::stage_title(&text).is_some()
                && text.starts_with(|c: char| !c.is_lowercase())
                && !(text.ends_with('.') && self.calls_for(&text)));
        // `Level | Item | Qty` levels nothing.
        let heads_table = row.filled() > 1 && Layout::of(row, None, self.named).is_some();
        let is_furniture = is_heading
            || heads_table
            || furniture::container(&text).is_some()
            || furniture::is_loose(&text)
            || bagged(&text).is_some()
            || self.is_numbered_title(&text)
            || self.title_of_use(&text).is_some()
            || furniture::is_total(&text)
            || (self.above.is_some() && furniture::ditto_in(&text).is_some());
        // `Step 4: Hang the seat` is a title, `Step 4. Hang it from four M8 eye bolts.` one and a sentence.
        let headed = furniture::stage_title(&text).filter(|_| is_heading);
        let titled = step_and_sentences(&text)
            .or_else(|| headed.and_then(furniture::title_and_rest))
            .filter(|(_, rest)| is_prose(rest) && (!is_heading || self.calls_for(rest)));
        // A torque in front of a whole line of a list is said of that line.
        let torqued = talk::torque_and_rest(text.trim())
            .is_some_and(|rest| !self.is_guide() && !rest.ends_with('.') && self.names_line(rest));
        let taken = if torqued {
            self.end_run_on();
            false
        } else if let Some((title, rest)) = titled {
            self.end_run_on();
            self.enter_numbered(&text, title);
            self.guide.takes(row.number, rest, true)
        } else if is_furniture {
            self.end_run_on();
            self.guide.end_paragraph();
            false
        } else {
            let body = furniture::without_bullet(&text);
            let body = without_step(&body);
            // `2. Posts`, `GATE` over sentences.
            if titles::of_guide(&self.bare_title).is_some() && is_prose(body) {
                let title = std::mem::take(&mut self.bare_title);
                self.enter_titled(&title, 0);
            }
            self.take_title_over(row.number, body);
            let fresh = !text.trim().starts_with(body);
            let taken = self.runs_on(row, body, fresh) || self.guide.takes(row.number, body, fresh);
            let number = text.trim().split(['.', ')', ' ']).next().map(str::parse);
            if let Some(Ok(number)) = number.filter(|_| taken && fresh) {
                self.guide.steps.push((number, row.number));
            }
            taken
        };
        self.line = text;
        taken
    }

    /// Enters the stage of a title that nothing but its place tells: alone over sentences, with no stop where they have one.
    fn take_title_over(&mut self, row: u32, body: &str) {
        let over = self.over_sentences.take();
        if !is_prose(body) {
            return;
        }
        self.ask_for_title_above(row);
        let closed = body.ends_with('.') && self.after_blank && self.stage_marks.is_none();
        let untitled = self.stage.is_empty() && self.bare_title.is_empty();
        let begins = untitled || self.list.lines.len() > self.stage_from;
        let title = match closed {
            true => over.or_else(|| self.guide.title_above(begins)),
            false => over,
        };
        if let Some((row, title)) = title
            && self.enter_titled(&title, 0)
        {
            self.stages_taken.push((row, title));
        }
    }

    /// `(7) Roof` alone over sentences is no sure count: seven would be roofs.
    fn ask_for_title_above(&mut self, row: u32) {
        let Some((at, line)) = self
            .list
            .lines
            .len()
            .checked_sub(1)
            .map(|at| (at, &self.list.lines[at]))
        else {
            return;
        };
        let text = self.list.text_of(line);
        let words = text.trim_start_matches(|c: char| !c.is_alphabetic());
        let titled = furniture::bare_title(words).is_some() && !words.ends_with('s');
        let counted = words.len() < text.len() && line.quantity.is_some_and(|pieces| pieces > 1);
        if self.after_blank && line.row + 2 == row && titled && counted {
            let said = format!(
                "\"{}\" stands alone over sentences: may be a heading",
                text.trim()
            );
            self.doubt_listed(at, Doubt::HowMany(said.into()));
        }
    }

    /// True where sentences stand in front of a place in a line and behind it.
    fn is_in_sentences(&self, text: &str, at: usize) -> bool {
        is_sentence(&text[at..]) && (is_sentence(&text[..at]) || self.guide.has_sentences())
    }

    /// Takes a part of a line that holds several stages: a title, with sentences or without.
    fn take_piece(&mut self, row: u32, text: &str) {
        let is_title = !self.take_prose(&Row::of_text(row, text));
        if let Some(title) = furniture::stage_title(text).filter(|_| is_title) {
            self.enter_numbered(text, title);
        }
    }

    /// True for the words of a list's line: hardware that is counted, or begins with its size.
    fn names_line(&self, text: &str) -> bool {
        let figure = text.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '#' | '('));
        self.calls(text) || figure && self.names_hardware(text)
    }

    /// Takes a line that goes on with an open sentence or is a list's, and waits for the end of the paragraph: a
    /// stop ends a sentence, and no list (common practice, no source).
    fn runs_on(&mut self, row: &Row, body: &str, fresh: bool) -> bool {
        let goes_on = match self.run_on.last() {
            Some(last) => {
                let begins = body.starts_with(char::is_uppercase) && is_prose(body);
                last.number + 1 == row.number && !begins && self.run_on.len() < MOST_RUN_ON
            }
            None => self.guide.is_open_above(row.number, body),
        };
        if fresh || row.filled() != 1 || !goes_on {
            self.end_run_on();
            return false;
        }
        self.run_on.push(row.clone());
        if body.ends_with(['.', '!']) {
            for row in std::mem::take(&mut self.run_on) {
                self.guide.go_on(row.number, &row.joined());
            }
        }
        true
    }

    /// Takes the lines that went on with no sentence, each for itself.
    pub(super) fn end_run_on(&mut self) {
        let rows = std::mem::take(&mut self.run_on);
        if rows.is_empty() {
            return;
        }
        self.guide.end_paragraph();
        for row in rows {
            if let Some(held) = self.held.take()
                && self.settle_held(&held, Some(&row))
            {
                continue;
            }
            self.take(&row, true);
        }
    }

    /// True where a sentence of a text calls for hardware.
    pub(super) fn calls_in_sentences(&self, head: &[Row]) -> bool {
        let texts = head.iter().map(Row::joined);
        let mut prose = texts.filter(|text| is_prose(text));
        prose.any(|text| !sentence(&text, self.notation).calls.is_empty())
    }

    /// True where a sentence calls for pieces or a torque, or repeats what does.
    pub(super) fn calls_for(&self, text: &str) -> bool {
        let said = sentence(text, self.notation);
        let counts = |call: &Call| call.callout.quantity.is_some();
        said.repeat.is_some() || !said.torques.is_empty() || said.calls.iter().any(counts)
    }

    /// Pushes the lines that the stage's prose asks for, and counts its rows.
    pub(super) fn end_prose(&mut self) {
        self.end_run_on();
        let mut text: Option<(u32, String, TextAt)> = None;
        let listed = self.stage_from..self.list.lines.len();
        let first = self.guide.first_sentence().cloned();
        let mut all = self.guide.end_stage(self.notation);
        self.ask_of_twin(&mut all, listed.is_empty(), first);
        let of_stage = self.listed_in_front(&all, listed.start);
        // What is named as known may be on any list in front.
        let known = all.iter().any(|asked| asked.known) && of_stage.is_empty();
        let from = if known { 0 } else { listed.start };
        let first = self.guide.first_line.unwrap_or(listed.start);
        let is_in_front = |at: usize| {
            let stage = self
                .list
                .placement_of(&self.list.lines[at])
                .stage
                .as_deref();
            at < first || of_head(stage.unwrap_or_default())
        };
        let front = (from..listed.start).filter(|at| is_in_front(*at));
        let lines = of_stage.iter().copied().chain(front).chain(listed.clone());
        let lines = lines.map(|at| (at, &self.list.lines[at]));
        let named = lines.filter(|_| !all.is_empty()).filter_map(|(at, line)| {
            let reading = self.list.reading_of(line)?;
            Some(Listed {
                at,
                row: line.row,
                item: &reading.item,
                pieces: line.quantity.map(|pieces| pieces * u64::from(line.places)),
            })
        });
        let named: Vec<Listed> = named.collect();
        let in_front = named.iter().filter(|one| known && one.at < listed.start);
        let in_front = in_front.count();
        let mut steps: Vec<&mut Asked> = all.iter_mut().collect();
        let torques = hold_against(&named, in_front, &mut steps);
        if all.iter().any(is_known) {
            let before = (0..listed.start).filter(|at| !is_in_front(*at));
            let before = before.filter_map(|at| {
                let line = &self.list.lines[at];
                Some(Earlier {
                    row: line.row,
                    item: &self.list.reading_of(line)?.item,
                    pieces: line.quantity.map(|pieces| pieces * u64::from(line.places)),
                    usage: self.list.placement_of(line).usage,
                })
            });
            ask_of_earlier(&before.collect::<Vec<Earlier>>(), &mut all);
        }
        for (at, torque) in torques {
            match torque {
                Ok(torque) => self.call_torque(at, torque),
                Err(doubt) => self.doubt_listed(at, doubt),
            }
        }
        if !of_stage.is_empty() {
            let stage = self.stage.clone();
            for at in of_stage {
                self.place_again(at, |placement| {
                    placement.stage = Some(stage.as_str().into())
                });
            }
        }
        if let Some(text) = self.guide.whole_again.take() {
            self.ask_of_stages_above(&text, listed.start);
        }
        let at_head = of_head(&self.stage);
        let last_row = all.iter().map(|asked| asked.row).max();
        let first_asked = self.list.lines.len();
        let is_bare = all.is_empty() && listed.is_empty();
        if !is_bare {
            self.guide.at_the_end.clear();
        }
        for told in std::mem::take(&mut self.guide.torques) {
            // A last stage that tightens what is there.
            let before = is_bare && (told.of_all || told.sized.is_some());
            let (from, end) = (if before { 0 } else { listed.start }, listed.end);
            let here = all
                .iter()
                .any(|asked| asked.torque.as_ref() == Some(&told.torque));
            let is_told = self.tell_listed(from..end, &told) || (told.at_the_end && here);
            if !is_told && told.sized.is_some() && at_head {
                self.guide.torques_by_size.push(told);
            } else if !is_told && told.tightens() {
                all.push(told.aside);
            } else if is_told && told.at_the_end && !before {
                self.guide.at_the_end.push((listed.start, told));
            }
        }
        for asked in all {
            // `with the hardware supplied`: that which the stage lists.
            if asked.callout == Err(NO_MORE_SAID) && !listed.is_empty() {
                continue;
            }
            let at = match &text {
                Some((row, text, at)) if *row == asked.row && *text == asked.text => *at,
                _ => {
                    let at = self.list.text.push(&asked.text);
                    text = Some((asked.row, asked.text.clone(), at));
                    at
                }
            };
            self.shown += asked.text.len() as u64;
            self.list.from_sentences = true;
            // What the box holds is told in sentences, too.
            if !(at_head && asked.tells_contents()) {
                self.guide.first_line.get_or_insert(self.list.lines.len());
            }
            if self.keep_words {
                self.words_of(asked.row, &asked.phrase, &asked.text, asked.says());
            }
            let line = self.asked_line(asked, at);
            self.list.lines.push(line);
        }
        let asked = first_asked..self.list.lines.len();
        let row = last_row.filter(|_| !asked.is_empty());
        self.of_sentences
            .extend(row.map(|row| OfSentences { lines: asked, row }));
        self.led(listed.clone());
        let mut worst: BTreeMap<u32, LineStatus> = BTreeMap::new();
        // Those of the stage before in the same line, too.
        let first = self.guide.rows.first().copied().unwrap_or(u32::MAX);
        let lines = self.list.lines.iter().rev();
        for line in lines.take_while(|line| line.row >= first) {
            let status = self.list.status_of(line);
            let row = worst.entry(line.row).or_insert(status);
            *row = status.max(*row);
        }
        // What sentences ask for is no list for the sentences behind it.
        if self.list.lines.len() > listed.end {
            self.stage_from = self.list.lines.len();
        }
        for row in std::mem::take(&mut self.guide.rows) {
            self.add(worst.get(&row).copied());
        }
    }

    /// Puts the first sentence of a stage aside that calls for nothing, where a stage before builds its twin: `Right side
    /// frame`, behind `Left side frame`.
    fn ask_of_twin(&mut self, all: &mut Vec<Asked>, no_list: bool, first: Option<(u32, String)>) {
        const WHY: &str =
            "a stage before builds one like it, and no hardware is named here: list what it takes";
        let Some(twin) = twin_of(&self.stage) else {
            return;
        };
        let is_empty = all.is_empty() && no_list;
        match (is_empty, first) {
            (false, _) => {
                self.twins.insert(twin);
            }
            (true, Some((row, text))) if self.twins.contains(&twin) && builds(&text) => {
                all.push(Asked::aside(row, text, WHY));
            }
            (true, _) => {}
        }
    }

    /// Doubts what stages before call for, where a sentence builds another of what they have built. Once a list: a second
    /// sentence would say no more.
    fn ask_of_stages_above(&mut self, text: &str, end: usize) {
        if std::mem::replace(&mut self.is_whole_again, true) {
            return;
        }
        let said = format!("\"{text}\" builds another: may ask for it again; taken once");
        for at in 0..end {
            let line = &self.list.lines[at];
            let usage = self.list.placement_of(line).usage;
            let wanted = usage.is_none_or(|usage| usage == Usage::New);
            if wanted && self.list.reading_of(line).is_some() {
                self.doubt_listed(at, Doubt::HowMany(said.as_str().into()));
            }
        }
    }

    /// The lines of lists in front of all sentences that bear the number of this stage: `1` in a column of steps is `Step
    /// 1`.
    fn listed_in_front(&mut self, all: &[Asked], end: usize) -> Vec<usize> {
        if self.guide.first_line.is_none() {
            let seen = std::mem::replace(&mut self.listed_to, end);
            for at in seen..end {
                let stage = self
                    .list
                    .placement_of(&self.list.lines[at])
                    .stage
                    .as_deref();
                let numbered = stage.and_then(|stage| {
                    let (number, letter) = furniture::number_of_stage(stage)?;
                    letter.is_none().then_some(number)
                });
                if let Some(number) = numbered {
                    self.by_stage.entry(number).or_default().push(at);
                }
            }
        }
        match furniture::number_of_stage(&self.stage) {
            Some((number, None)) if !all.is_empty() => {
                self.by_stage.remove(&number).unwrap_or_default()
            }
            _ => Vec::new(),
        }
    }

    /// Notes the parts that sentences count and no line asks for.
    pub(super) fn note_uncounted(&mut self) {
        let mut things = self.guide.things();
        for line in &self.list.lines {
            let Some(reading) = self.list.reading_of(line).filter(|_| !things.is_empty()) else {
                continue;
            };
            let text = reading.item.text();
            let names = |noun: &str| text.split(' ').any(|word| word.starts_with(noun));
            things.retain(|(noun, _)| !names(noun));
        }
        let words = things.into_iter().map(|(_, words)| words.to_owned());
        self.list.uncounted = words.collect();
    }

    /// Multiplies what stands below sentences that say it of that: `For each post use:`. It is the list
    /// right below; where none is there, the sentences behind. `listed`: lines of the stage's lists,
    /// behind which those of its sentences stand.
    fn led(&mut self, listed: Range<usize>) {
        for lead in std::mem::take(&mut self.guide.leads) {
            let lines = &self.list.lines;
            let in_list = |at: &usize| lead.rows.contains(&lines[*at].row);
            let below: Vec<usize> = listed.clone().filter(in_list).collect();
            let behind = |at: &usize| lines[*at].row >= lead.rows.end;
            // A list ends with a row between its lines.
            let whole = (1..below.len())
                .find(|&at| lines[below[at]].row > lines[below[at - 1]].row + 1)
                .unwrap_or(below.len());
            let is_of = |at: &usize| {
                let row = lines[*at].row;
                row < lead.end
                    && (lead.bulleted.is_empty() || lead.bulleted.binary_search(&row).is_ok())
            };
            let (led, rest): (Vec<usize>, Vec<usize>) = match below.is_empty() {
                true => (listed.end..lines.len()).filter(behind).partition(is_of),
                false => (below[..whole].to_vec(), below[whole..].to_vec()),
            };
            // Behind a list with bullets other work begins.
            let is_open = |at: &usize| lead.bulleted.is_empty() || lines[*at].row < lead.end;
            let rest: Vec<usize> = rest.into_iter().filter(is_open).collect();
            if lead.places > 1 {
                let said = format!("\"{}\" may go for it, too; taken once", lead.text);
                for at in rest {
                    let doubt = Doubt::HowMany(said.as_str().into());
                    match at < listed.end {
                        true => self.doubt_listed(at, doubt),
                        false => self.list.lines[at].more_mut().doubts.push(doubt),
                    }
                }
            }
            let mut doubted = None;
            for at in led {
                let was = self.list.status_of(&self.list.lines[at]);
                let line = &mut self.list.lines[at];
                line.places = line.places.saturating_mul(lead.places);
                if lead.doubts.is_empty() {
                    continue;
                }
                line.more_mut().doubts.extend_from_slice(&lead.doubts);
                // Rows of lists are counted already; the items of one row are in doubt together.
                let counted = at < listed.end && was == LineStatus::Read;
                if counted && doubted.replace(line.row) != Some(line.row) {
                    self.tally.read -= 1;
                    self.tally.check += 1;
                }
            }
        }
    }

    pub(super) fn asked_line(&mut self, asked: Asked, text: TextAt) -> Line {
        let placement = self.placement_of_text(|meaning| match meaning {
            Meaning::Use => asked.usage.map(Usage::as_str),
            Meaning::Torque => asked.torque.as_deref(),
            Meaning::Place => asked.place.as_deref(),
            Meaning::Option => asked.option.as_deref(),
            Meaning::Sequence => asked.sequence,
            _ => None,
        });
        let mut doubts = asked.doubts;
        doubts.extend(
            self.place_doubts
                .get(&placement)
                .into_iter()
                .flatten()
                .cloned(),
        );
        let (what, quantity) = match asked.callout {
            Ok(callout) => {
                let next = self.list.readings.len() as u32;
                let open = Open::of_phrase(&asked.phrase, &callout, next, self.notation);
                self.list.open.extend(open);
                self.list.readings.push(Reading {
                    item: callout.item,
                    part_number: callout.part_number,
                    comes_with: callout.comes_with,
                    lent_size: callout.lent_size,
                    doubts: callout.doubts,
                });
                (What::Item(next), callout.quantity)
            }
            Err(reason) => (self.list.put_aside(Aside::NoItem(reason.into())), None),
        };
        if quantity.is_none()
            && matches!(what, What::Item(_))
            && asked.usage != Some(Usage::Reference)
        {
            doubts.push(Doubt::NoQuantity);
        }
        let pieces = quantity.map(|quantity| quantity.pieces);
        Line {
            sheet: self.sheet,
            places: asked.places,
            ..Line::new(asked.row, text, what, placement, pieces)
        }
        .with(More {
            packs: quantity.and_then(|quantity| quantity.packs),
            doubts,
            ..More::default()
        })
    }
}
