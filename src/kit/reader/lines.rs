//! Lines of text, and the prose of a guide.

use std::{collections::BTreeMap, sync::LazyLock};

use regex::Regex;

use super::{
    super::{
        count::{self, Count},
        guide::{Asked, is_prose, without_step},
        labelled::Labelled,
        line::LineStatus,
        line::{Aside, Line, More, What},
        open::Open,
        reading::Reading,
        remark,
        role::Role,
        share::Share,
        text::TextAt,
        usage::Usage,
        words::Words,
    },
    Entry, Reader,
    habit::{self, Habit, Mark},
    key::{Key, LINE},
    kind, several, titles,
};
use crate::{
    Doubt,
    columns::{
        Meaning,
        furniture::{self, Container},
        talk,
    },
    hardware::{Item, Kind},
    notation::{
        Call, Callout, NO_MORE_SAID, Notation, Quantity, Unread, describe, figures, names_part,
        sentence,
    },
    source::{Format, Row},
    words::pattern,
};

impl Reader<'_> {
    /// A line of text, or a row without headings above it.
    pub(super) fn list_row(&mut self, row: &Row, fresh: bool) {
        self.row_of_list(row, fresh);
        self.after_blank = false;
    }

    fn row_of_list(&mut self, row: &Row, fresh: bool) {
        if self.take_prose(row) {
            return;
        }
        let heading_like = self.is_heading_like(row);
        if fresh && (heading_like || self.may_be_kind(row)) {
            self.held = Some(row.clone());
            return;
        }
        let mut text = std::mem::take(&mut self.line);
        row.join_into(&mut text);
        text.truncate(self.usual.without_price(&text).len());
        if let Some(whole) = kind::under(&self.kind_above, &text, self.notation) {
            text = whole;
        }
        // Headings of which too few are known to make a table are still no items.
        let counts = || (row.cells()).any(|(text, _)| count::is_count(text, self.notation));
        let is_heading = heading_like && !counts() && !self.names_hardware(&text);
        let lines = match is_heading {
            true => None,
            false => several::lines(row, &text, self.notation),
        };
        let worst = match &lines {
            Some(lines) => {
                (lines.iter()).fold(None, |worst, line| worst.max(self.list_line(row, line)))
            }
            None if is_heading => None,
            None => self.list_line(row, &text),
        };
        if self.keep_words {
            for line in lines.iter().flatten() {
                self.words_of(row.number, line, "", None);
            }
        }
        if self.keep_words && worst.is_some() && lines.is_none() {
            let whole = furniture::without_bullet(&text);
            let shared = Share::behind(&whole);
            let body = shared.map_or(&*whole, |(body, ..)| body);
            self.words_of(row.number, body, "", None);
            // The bullet or number in front, and what says how the count comes about.
            let lead = text.trim().strip_suffix(&*whole).unwrap_or_default().trim();
            let beside = [lead, shared.map_or("", |(_, inside, _)| inside)];
            if let Some(words) = self.list.words.last_mut() {
                let beside = beside.iter();
                let beside = beside.filter(|text| text.contains(char::is_alphanumeric));
                let beside = beside.map(|text| (Meaning::Ignored, Box::from(*text)));
                words.beside.extend(beside);
            }
        }
        self.line = text;
        self.add(worst);
    }

    /// Keeps what a line of text was read from. `said`: what the rest of its sentence says.
    fn words_of(
        &mut self,
        row: u32,
        text: &str,
        sentence: &str,
        said: Option<Vec<(Meaning, Box<str>)>>,
    ) {
        let mut item = <[Box<str>; 8]>::default();
        item[0] = text.into();
        self.list.words.push(Words {
            sheet: self.sheet,
            row,
            item,
            in_prose: said.is_some(),
            sentence: sentence.into(),
            beside: said.unwrap_or_default(),
            notation: self.notation,
        });
    }

    /// Takes a line of a guide's prose.
    fn take_prose(&mut self, row: &Row) -> bool {
        if self.list.role != Role::Required || self.list.format != Format::Text {
            return false;
        }
        let mut text = std::mem::take(&mut self.line);
        row.join_into(&mut text);
        // A heading names no pieces: `Stage 2 takes four 5/8 x 6 hex bolts.` is a sentence.
        let is_heading = furniture::markdown_heading(&text).is_some()
            || (furniture::stage_title(&text).is_some()
                && text.starts_with(|c: char| !c.is_lowercase())
                && !(text.ends_with('.') && self.calls_for(&text)));
        let is_furniture = is_heading
            || furniture::container(&text).is_some()
            || furniture::is_loose(&text)
            || bagged(&text).is_some()
            || self.is_numbered_title(&text)
            || furniture::is_total(&text)
            || (self.above.is_some() && furniture::ditto_in(&text).is_some());
        // `Step 4: Hang the seat` is a title, `Step 4. Hang it from four M8 eye bolts.` one and a sentence.
        let headed = furniture::stage_title(&text).filter(|_| is_heading);
        let titled = furniture::step_and_rest(&text)
            .or_else(|| headed.and_then(furniture::title_and_rest))
            .filter(|(_, rest)| is_prose(rest) && self.calls_for(rest));
        let taken = if let Some((title, rest)) = titled {
            self.enter_stage(title);
            self.guide.takes(row.number, rest, true)
        } else if is_furniture {
            self.guide.end_paragraph();
            false
        } else {
            let body = furniture::without_bullet(&text);
            let body = without_step(&body);
            // `2. Posts` over sentences.
            if self.bare_title.starts_with(|c: char| c.is_ascii_digit()) && is_prose(body) {
                let title = std::mem::take(&mut self.bare_title);
                self.enter_stage(&title);
            }
            let fresh = !text.trim().starts_with(body);
            self.guide.takes(row.number, body, fresh)
        };
        self.line = text;
        taken
    }

    /// True where a sentence calls for pieces, or repeats what does.
    fn calls_for(&self, text: &str) -> bool {
        let said = sentence(text, self.notation);
        let counts = |call: &Call| call.callout.quantity.is_some();
        said.repeat.is_some() || said.calls.iter().any(counts)
    }

    /// Pushes the lines that the stage's prose asks for, and counts its rows.
    pub(super) fn end_prose(&mut self) {
        let mut text: Option<(u32, String, TextAt)> = None;
        let listed = self.stage_from..self.list.lines.len();
        for mut asked in self.guide.end_stage(self.notation) {
            // `with the hardware supplied`: that which the stage lists.
            if asked.callout == Err(NO_MORE_SAID) && !listed.is_empty() {
                continue;
            }
            if let Some(row) = self.listed_as_many(listed.clone(), &asked) {
                asked.usage = Some(Usage::Reference);
                asked.doubts.push(Doubt::Said(
                    format!("line {row} lists as many: taken as those, and not as more").into(),
                ));
            }
            let from = if asked.known { 0 } else { listed.start };
            if let Some(row) = self.listed_too(from..listed.end, &asked) {
                asked.doubts.push(Doubt::Said(
                    format!("line {row} lists it too: may be the same pieces; taken as more")
                        .into(),
                ));
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
            if self.keep_words {
                self.words_of(asked.row, &asked.phrase, &asked.text, asked.says());
            }
            let line = self.asked_line(asked, at);
            self.list.lines.push(line);
        }
        self.led(listed.clone());
        let mut worst: BTreeMap<u32, LineStatus> = BTreeMap::new();
        for line in &self.list.lines[listed.end..] {
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

    /// Multiplies what stands below sentences that say it of that: `For each post use:`. It is the list
    /// right below; where none is there, the sentences behind. `listed`: lines of the stage's lists,
    /// behind which those of its sentences stand.
    fn led(&mut self, listed: std::ops::Range<usize>) {
        for lead in std::mem::take(&mut self.guide.leads) {
            let lines = &self.list.lines;
            let in_list = |at: &usize| lead.rows.contains(&lines[*at].row);
            let below: Vec<usize> = listed.clone().filter(in_list).collect();
            let behind = |at: &usize| lines[*at].row >= lead.rows.end;
            let led = match below.is_empty() {
                true => (listed.end..lines.len()).filter(behind).collect(),
                false => below,
            };
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

    /// The row of a list in the stage that names what a sentence asks for: guides often list a step's
    /// hardware above its sentences (common practice, no source).
    fn listed_too(&self, listed: std::ops::Range<usize>, asked: &Asked) -> Option<u32> {
        let item = &asked.callout.as_ref().ok()?.item;
        let is_new = asked.usage.is_none_or(|usage| usage == Usage::New);
        let same = |line: &&Line| {
            self.list.reading_of(line).is_some_and(|reading| {
                let there = &reading.item;
                there.kind == item.kind
                    && there.diameter == item.diameter
                    && (there.length == item.length || item.length.is_none())
            })
        };
        let line = self.list.lines[listed].iter().find(same)?;
        is_new.then_some(line.row)
    }

    /// The row of a list in the stage that names as many pieces of the kind, where the sentence states no
    /// size: `Screw the four bearers down, four deck screws to each` below `16 #10 x 3 deck screws`.
    fn listed_as_many(&self, listed: std::ops::Range<usize>, asked: &Asked) -> Option<u32> {
        let callout = asked.callout.as_ref().ok()?;
        let item = &callout.item;
        let pieces = callout.quantity?.pieces * u64::from(asked.places);
        let open =
            item.diameter.is_none() && item.length.is_none() && item.kind != Some(Kind::Part);
        let same = |line: &&Line| {
            let all = line.quantity.map(|pieces| pieces * u64::from(line.places));
            let there = self.list.reading_of(line).map(|reading| &reading.item);
            let alike = |there: &Item| {
                there.kind == item.kind && (item.style.is_none() || there.style == item.style)
            };
            all == Some(pieces) && there.is_some_and(alike)
        };
        let is_new = asked.usage.is_none_or(|usage| usage == Usage::New);
        let line = self.list.lines[listed].iter().find(same)?;
        (open && is_new).then_some(line.row)
    }

    fn asked_line(&mut self, asked: Asked, text: TextAt) -> Line {
        let placement = self.placement_of_text(|meaning| match meaning {
            Meaning::Use => asked.usage.map(Usage::as_str),
            Meaning::Torque => asked.torque.as_deref(),
            Meaning::Place => asked.place.as_deref(),
            Meaning::Option => asked.option.as_deref(),
            Meaning::Sequence => asked.sequence,
            _ => None,
        });
        let mut doubts = asked.doubts;
        let (what, quantity) = match asked.callout {
            Ok(callout) => {
                let next = self.list.readings.len() as u32;
                let open = Open::of_phrase(&asked.phrase, &callout, next, self.notation);
                self.list.open.extend(open);
                self.list.readings.push(Reading {
                    item: callout.item,
                    part_number: callout.part_number,
                    comes_with: callout.comes_with,
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

    fn list_line(&mut self, row: &Row, text: &str) -> Option<LineStatus> {
        if furniture::is_total(text) {
            return self.item_line(row, text);
        }
        if let Some(stage) = furniture::stage_title(text) {
            // A title that calls for hardware is a title and a line.
            let titled = furniture::title_and_rest(stage)
                .into_iter()
                .chain(furniture::step_and_rest(stage))
                .find(|(_, rest)| {
                    self.calls(rest) || self.calls_for(rest) || self.names_sized(rest)
                });
            let Some((title, rest)) = titled else {
                self.enter_stage(stage);
                return None;
            };
            self.enter_stage(title);
            return self.item_line(row, rest);
        }
        if let Some((level, title)) = furniture::markdown_heading(text) {
            if level > 1 {
                self.enter_stage(title);
            }
            return None;
        }
        if let Some(container) = furniture::container(text) {
            self.enter_container(container);
            return None;
        }
        if self.list.role == Role::Counted
            && let Some(container) = furniture::containers_counted(text)
        {
            return self.containers_counted(row, container, text);
        }
        if let Some(sets) = furniture::sets_of_what_follows(text).filter(|sets| *sets > 1) {
            self.end_prose();
            self.sets_above = Some((sets, format!("\"{}\", line {}", text.trim(), row.number)));
            return None;
        }
        // A bag in front of a line is that line's.
        let called = furniture::container_and_rest(text).filter(|(_, rest)| self.calls(rest));
        let called = called.map(|(container, rest)| (Some(container), rest));
        if let Some((container, rest)) = called
            .or_else(|| bagged(text))
            .or_else(|| bag_in_cell(row, text))
        {
            let before = (self.bag.clone(), self.carton.clone());
            match container {
                Some(container) => self.enter_container(container),
                None => (self.bag, self.carton) = Default::default(),
            }
            let lines = several::lines(&Row::of_text(row.number, rest), rest, self.notation);
            let worst = match lines {
                Some(lines) => lines
                    .iter()
                    .fold(None, |worst, line| worst.max(self.item_line(row, line))),
                None => self.item_line(row, rest),
            };
            (self.bag, self.carton) = before;
            return worst;
        }
        if self.is_numbered_title(text) {
            self.titles_numbered += 1;
            self.enter_stage(furniture::unmark(text));
            return None;
        }
        let closed = text.trim_end().ends_with(':');
        let numbered = furniture::numbered_title(text)
            .filter(|(number, _)| *number == self.titles_numbered + 1 && self.after_blank);
        let title = furniture::bare_title(text).or(numbered.map(|(_, title)| title));
        if let Some(title) = title
            && (closed || self.after_blank)
            && self.list.role == Role::Required
            && self.list.format == Format::Text
            && !describe(text, self.notation).is_ok_and(|all| all.iter().any(Callout::is_hardware))
        {
            self.titles_numbered += u32::from(numbered.is_some());
            self.bare_title.clear();
            self.bare_title.push_str(title);
            return None;
        }
        if furniture::is_loose(text) {
            self.bag.clear();
            self.carton.clear();
            return None;
        }
        self.item_line(row, text)
    }

    /// True for the next of the titles that are numbered in turn without a mark: `2 Roof`.
    fn is_numbered_title(&self, text: &str) -> bool {
        self.usual.numbers_titles
            && self.list.role == Role::Required
            && titles::numbered(text).is_some_and(|number| number == self.titles_numbered + 1)
    }

    /// A line that counts bags as such: what is in them is not counted. It may head what is counted of one.
    fn containers_counted(
        &mut self,
        row: &Row,
        container: Container<'_>,
        text: &str,
    ) -> Option<LineStatus> {
        let before = (self.bag.clone(), self.carton.clone());
        self.enter_container(container);
        let place = self.placement_of_text(|_| None);
        if !text.trim_end().ends_with(':') {
            (self.bag, self.carton) = before;
        }
        self.push_bag(row, place, None, None, vec![uncounted_inside()])
    }

    /// Takes a line's figures as often as what stands above says that there are kits.
    pub(super) fn take_sets(&self, count: &mut Count) {
        if let Some((sets, heading)) = &self.sets_above {
            let times = u64::from(*sets);
            count.places = count.places.saturating_mul(*sets);
            count.damaged = count.damaged.saturating_mul(times);
            count.back_ordered = count.back_ordered.saturating_mul(times);
            let told = format!("taken {sets} times, for {heading}: is it each or in all?");
            count.doubts.push(Doubt::OrElse {
                pieces: count.pieces.unwrap_or(0),
                said: told.into(),
            });
        }
    }

    /// True where a text calls for so many pieces of hardware.
    pub(super) fn calls(&self, text: &str) -> bool {
        let counted = |callout: &Callout| callout.is_hardware() && callout.quantity.is_some();
        describe(text, self.notation).is_ok_and(|all| all.iter().any(counted))
    }

    /// True where a text that is no sentence names hardware with a size.
    fn names_sized(&self, text: &str) -> bool {
        let sized = |callout: &Callout| callout.is_hardware() && callout.item.diameter.is_some();
        !is_prose(text) && describe(text, self.notation).is_ok_and(|all| all.iter().any(sized))
    }

    /// A line with what it repeats of the item above put in its place, and a doubt where that may be meant
    /// otherwise.
    fn undittoed(&self, body: &str) -> Option<(String, Option<Doubt>)> {
        let (at, counts) = furniture::ditto_in(body)?;
        let (above, quantity) = self.above.as_ref()?;
        let put = match counts {
            true => (*quantity)?.to_string(),
            false => {
                let bare = Item {
                    diameter: None,
                    thread: None,
                    length: None,
                    outside: None,
                    ..above.clone()
                };
                let size = match body[at.end..]
                    .trim_start()
                    .strip_prefix(['x', 'X', '\u{d7}'])
                {
                    Some(_) => format!(" {}", above.diameter?),
                    None => String::new(),
                };
                format!("{bare}{size}")
            }
        };
        let written = &body[at.clone()];
        let whole = format!("{}{put}{}", &body[..at.start], &body[at.end..]);
        // `same` may be meant of more or less than is put in; the others are the marks for it.
        let doubt = written
            .to_lowercase()
            .starts_with("same")
            .then(|| Doubt::HowMany(format!("\"{written}\" taken as {put}, as above").into()));
        Some((whole, doubt))
    }

    /// A line of text that is no title.
    fn item_line(&mut self, row: &Row, text: &str) -> Option<LineStatus> {
        self.begun |= !self.list.lines.is_empty()
            || self
                .usual
                .begins_at
                .is_some_and(|first| row.number >= first);
        let mut body = furniture::without_bullet(text);
        if let Some(rest) = talk::without_talk(&body).filter(|rest| self.calls(rest)) {
            body = rest.into_owned().into();
        }
        let mut count = Count::default();
        if let Some((whole, doubt)) = self.undittoed(&body) {
            body = whole.into();
            count.doubts.extend(doubt);
        }
        let labelled = Labelled::of(&body, self.list.role);
        let mut is_line = false;
        if let Some(said) = labelled.filter(|_| !furniture::is_paper(&body)) {
            count.take(&said, self.list.role);
            let names = |text: &str| !furniture::is_total(text) && !furniture::is_note(text);
            is_line = said.is_several() && names(&said.rest);
            body = said.rest.into();
        }
        self.take_sets(&mut count);
        let shared = Share::behind(&body);
        let shared =
            shared.map(|(body, inside, share)| (body.to_owned(), inside.to_owned(), share));
        if let Some((without, ..)) = &shared {
            body = without.clone().into();
        }
        if let Some(total) = self.total_of_item(&body) {
            return total.and_then(|why| {
                let place = self.placement_of_text(|_| None);
                self.push_aside(row, place, Aside::NoItem(why))
            });
        }
        let wording = self.wordings.with(Key::BLANK, LINE, &body);
        let entry = self.entry_of(wording);
        // What bears labelled figures is a line, whatever its words.
        let is_new = matches!(self.said[entry], Entry::New);
        if is_new || (is_line && matches!(self.said[entry], Entry::Furniture)) {
            let named = self.named_in(text, &body);
            let named = named.or_else(|| is_line.then(|| describe(&body, self.notation)));
            let named = named.or_else(|| self.untold(&body));
            self.said[entry] = match named {
                Some(callouts) => {
                    let said = self.describe(callouts);
                    let word = |_: &Self, at| if at == 0 { &*body } else { "" }.into();
                    self.keep_open(word, &said);
                    said
                }
                None => Entry::Furniture,
            };
        }
        if let Some(aside) = count.aside.take().or_else(|| self.in_words(&body, entry)) {
            let place = self.placement_of_text(|_| None);
            return self.push_aside_named(row, place, aside, entry);
        }
        match &self.said[entry] {
            &Entry::Items(start, end) => {
                self.begin_titled();
                let stated = self.found[start as usize].quantity;
                let stated = count.pieces.or(stated.map(|quantity| quantity.pieces));
                if let (Some((_, inside, share)), Some(pieces)) = (shared, stated)
                    && !share.makes(pieces)
                {
                    count.doubts.push(Doubt::Remark(inside.into()));
                }
                let brought = self.brought(entry).map(Usage::as_str);
                let place = self.placement_of_text(|meaning| match meaning {
                    Meaning::Use => brought,
                    _ => None,
                });
                let first = self.list.lines.len();
                let worst = Some(self.push_items(row, place, start..end, &count));
                let line = &self.list.lines[first];
                let item = self
                    .list
                    .reading_of(line)
                    .map(|reading| reading.item.clone());
                self.above = item
                    .filter(|item| item.part.is_none())
                    .map(|item| (item, line.quantity));
                worst
            }
            Entry::New | Entry::Furniture | Entry::Container => {
                let Some(stated) = furniture::total_in(&body) else {
                    if !self.begun {
                        self.note_title(row);
                    }
                    if self.is_written_as_line(row, text, &body) {
                        let place = self.placement_of_text(|_| None);
                        return self.push_aside(row, place, Aside::NoItem(UNHEARD.into()));
                    }
                    self.may_be_title = self
                        .is_title_of_list(text)
                        .then(|| (row.number, text.to_owned()));
                    if self.may_be_line(row, &body) {
                        let place = self.placement_of_text(|_| None);
                        let written = self.written.clone();
                        let written = written.filter(|of| of.number == row.number);
                        let unheard = written.unwrap_or_else(|| row.clone());
                        self.unheard.push((unheard, place));
                    } else if self.hides_figures(&body) {
                        self.passed_figures.push((row.number, text.to_owned()));
                    }
                    return None;
                };
                let place = self.placement_of_text(|_| None);
                self.push_total(row, place, stated)
            }
            Entry::Unread(reason) => {
                let reason = reason.clone();
                let place = self.placement_of_text(|_| None);
                self.push_aside(row, place, Aside::NoItem(reason))
            }
        }
    }

    /// A line among those of a list that says how many in no number, of what nobody knows: `door hinges - a
    /// pair or two`.
    fn untold(&self, body: &str) -> Option<Result<Vec<Callout>, Unread>> {
        let is_line = self.begun
            && !is_prose(body)
            && !furniture::is_note(body)
            && !furniture::is_total(body)
            && !furniture::is_paper(body);
        let words = remark::untold(body).filter(|_| is_line)?;
        Some(Err(Unread::NoItem(
            format!("how many is said in no number (\"{words}\")").into(),
        )))
    }

    /// True where a line of a text that was not understood may be one of the list: a few words that are no title.
    fn may_be_line(&self, row: &Row, body: &str) -> bool {
        let few = match self.hides_figures(body) {
            true => FEW_WITH_FIGURES,
            false => FEW,
        };
        self.list.format == Format::Text
            && !self.list.lines.is_empty()
            && self.usual.speakers.is_none()
            && is_short(body, few)
            && !is_chore(body)
            && !is_paperwork(body)
            && (body.contains(|c: char| c.is_ascii_digit())
                || row.filled() > 1
                || !is_title_like(body))
    }

    /// True where a line that was not understood is written as those of the list are: with their bullet, their
    /// columns or their signs; or asks something.
    fn is_written_as_line(&self, row: &Row, text: &str, body: &str) -> bool {
        let bulleted = || self.usual.bulleted && body.len() < text.trim().len();
        let in_columns = || {
            let quantity = self
                .layout
                .as_ref()
                .and_then(|l| l.column(Meaning::Quantity));
            let headless = self.layout.as_ref().is_some_and(|layout| layout.headless);
            headless && !self.list.lines.is_empty() && row.filled() > 1 && quantity.is_some()
        };
        let signed = || {
            let form = self.usual.parting.as_ref();
            form.is_some_and(|form| form.is_borne_by(text, self.notation))
        };
        let asks = || {
            self.begun && self.usual.speakers.is_none() && body.contains('?') && is_short(body, FEW)
        };
        let few = || body.split_whitespace().count() <= FEW_WITH_FIGURES;
        let listed = || bulleted() && is_short(body, FEW_WITH_FIGURES);
        self.list.format == Format::Text
            && !is_paperwork(body)
            && (listed() || asks() || (few() && (in_columns() || signed())))
    }

    /// True where a line among those of a list holds figures, and is none of what lists hold besides.
    fn hides_figures(&self, body: &str) -> bool {
        self.begun
            // A guide's sentences are full of figures.
            && (self.list.role != Role::Required || !is_prose(body))
            && body.contains(|c: char| c.is_ascii_digit())
            && !furniture::is_total(body)
            && !furniture::is_note(body)
            && !furniture::is_paper(body)
            && !furniture::is_page_or_footnote(body)
    }

    /// A total that names one item: nothing where its lines come to as much, else why it is put aside.
    fn total_of_item(&self, body: &str) -> Option<Option<Box<str>>> {
        if !furniture::is_total(body) {
            return None;
        }
        let label = |word: &&str| {
            let word = word.trim_end_matches(':').to_lowercase();
            ["total", "totals", "grand", "subtotal"].contains(&word.as_str())
        };
        let words: Vec<&str> = body
            .split_whitespace()
            .filter(|word| !label(word))
            .collect();
        let all = describe(&words.join(" "), self.notation).ok()?;
        let sized = |callout: &&Callout| callout.is_hardware() && callout.item.diameter.is_some();
        let callout = all.iter().find(sized)?;
        let of_item = |line: &&Line| {
            (self.list.reading_of(line)).is_some_and(|reading| reading.item == callout.item)
        };
        let lines = self.list.lines.iter().filter(of_item);
        let pieces =
            lines.filter_map(|line| Some(line.quantity?.saturating_mul(u64::from(line.places))));
        let sum = pieces.fold(0, u64::saturating_add);
        let stated = callout.quantity.map(|quantity| quantity.pieces);
        Some((stated != Some(sum) || all.len() > 1).then(|| {
            format!(
                "a total of one item, of which the lines above come to {sum}: it may be a line of its own"
            )
            .into()
        }))
    }

    /// True where a line that names nothing, among the lines of a list, may be the title of those below.
    fn is_title_of_list(&self, text: &str) -> bool {
        self.list.role == Role::Required
            && self.list.format == Format::Text
            && !self.list.lines.is_empty()
            && furniture::may_be_title(text)
    }

    /// What a line of text names. `None` for a sentence without hardware and without a count, a title
    /// or a page's foot; what begins with a figure (`2 gal. wood stain`) is a line.
    fn named_in(&self, text: &str, body: &str) -> Option<Result<Vec<Callout>, Unread>> {
        let begins_with_figure = body.starts_with(|c: char| c.is_ascii_digit());
        let noted = furniture::is_note(body) && !begins_with_figure;
        let heads = self.list.lines.is_empty() && furniture::names_list(body);
        if furniture::is_total(body) || noted || heads || furniture::is_paper(body) {
            return None;
        }
        if furniture::is_of_others(body) {
            return Some(Err(Unread::of_others()));
        }
        if let Some(words) = refers(body).filter(|_| self.begun && is_short(body, FEW)) {
            let why = format!("it refers to what stands elsewhere (\"{words}\"): write it out");
            return Some(Err(Unread::NoItem(why.into())));
        }
        if let Some(counted) = self
            .counted_by_habit(body)
            .or_else(|| self.counted_thrice(body))
        {
            return Some(Ok(counted));
        }
        let mut callouts = describe(body, self.notation);
        if let Ok(all) = &mut callouts {
            self.count_no_size(body, all);
        }
        // Behind the marks of a mail that is handed on.
        let quoted = body.trim_start_matches(|c: char| !c.is_alphanumeric());
        let counts = quoted.starts_with(|c: char| c.is_ascii_digit());
        if let (Some(Habit::Before), true, Ok(all)) = (self.usual.habit, counts, &mut callouts) {
            for part in all.iter_mut().filter(|callout| !callout.is_hardware()) {
                // A number in words is seldom part of a name.
                let in_name = |doubt: &Doubt| matches!(doubt, Doubt::MayBeCount(figure) if figure.starts_with(|c: char| c.is_ascii_digit()));
                let other = |doubt: &Doubt| !in_name(doubt);
                part.doubts.retain(other);
            }
        }
        if let (Some(Habit::Before), Ok(all)) = (self.usual.habit, &mut callouts) {
            doubt_count_behind(quoted, all);
            self.count_in_front(quoted, all);
        }
        if let Ok(all) = &mut callouts {
            doubt_count_in_brackets(quoted, all);
        }
        let any = |is: fn(&Callout) -> bool| callouts.as_ref().is_ok_and(|all| all.iter().any(is));
        if any(Callout::is_hardware) {
            let sized =
                |callout: &Callout| callout.item.diameter.is_some() || callout.quantity.is_some();
            let left_out = remark::not_in_kit(body) && !any(sized);
            return (!left_out).then_some(callouts);
        }
        if furniture::is_page_or_footnote(text)
            || furniture::is_note(body)
            || (!begins_with_figure && furniture::is_plain_sentence(body))
        {
            return None;
        }
        let counted = any(|callout| callout.quantity.is_some());
        let is_line = counted
            || begins_with_figure
            || !self.list.lines.is_empty() && furniture::counts_a_thing(body)
            || names_part(body)
            || furniture::holds_size(&figures(body));
        // Plain words with a number behind may be a title, before the list has begun.
        if let Some((words, count)) = count_behind(body, self.notation)
            && (is_line || words.split(' ').next().is_some_and(is_code) || self.begun)
        {
            if !counted {
                callouts = describe(words, self.notation);
            }
            if let Ok([only]) = callouts.as_deref_mut() {
                only.quantity = only.quantity.or(Some(Quantity {
                    pieces: count,
                    packs: None,
                }));
                only.doubts.push(Doubt::HowMany(
                    "a number behind plain words: it may be no count".into(),
                ));
            }
            return Some(callouts);
        }
        is_line.then_some(callouts)
    }

    /// A count by its `x`, and a diameter and a length that one word joins: `48x 5x60 screw` (common practice,
    /// no source).
    fn counted_thrice(&self, body: &str) -> Option<Vec<Callout>> {
        let (pieces, mark, rest) = habit::before(body)?;
        let size = rest
            .split(' ')
            .next()?
            .strip_prefix('M')
            .unwrap_or(rest.split(' ').next()?);
        let (thick, long) = size.split_once(['x', 'X', '\u{d7}'])?;
        let figure = |text: &str| {
            !text.is_empty()
                && text
                    .bytes()
                    .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b','))
        };
        if mark != Mark::Times || !figure(thick) || !figure(long) || rest.len() == size.len() {
            return None;
        }
        let mut callouts = describe(rest, self.notation).ok()?;
        let [only] = callouts.as_mut_slice() else {
            return None;
        };
        let sized =
            only.is_hardware() && only.item.diameter.is_some() && only.item.length.is_some();
        (sized && only.quantity.is_none()).then_some(())?;
        only.quantity = Some(Quantity {
            pieces,
            packs: None,
        });
        Some(callouts)
    }

    /// Among lines that begin with their count, a part whose figure in front was taken for a measure: `12 foot
    /// plates`.
    fn count_in_front(&self, body: &str, callouts: &mut Vec<Callout>) {
        let [only] = callouts.as_slice() else { return };
        let Some((figures, words)) = body.split_once(' ') else {
            return;
        };
        let open = !only.is_hardware() && only.quantity.is_none();
        let (Ok(pieces), true) = (
            figures.parse(),
            open && words.starts_with(char::is_alphabetic),
        ) else {
            return;
        };
        if let Ok(mut all) = describe(words, self.notation)
            && let [part] = all.as_mut_slice()
            && !part.is_hardware()
            && part.quantity.is_none()
        {
            part.quantity = Some(Quantity {
                pieces,
                packs: None,
            });
            *callouts = all;
        }
    }

    /// Hardware or a part and its count, where the lines of the text, or a mark between, tell them apart:
    /// `lock pins: 97` is no pin M97. Common practice, no source.
    fn counted_by_habit(&self, body: &str) -> Option<Vec<Callout>> {
        let (habit, mark) = (self.usual.habit, self.usual.count_mark);
        let times = || habit::times_behind(body).filter(|_| mark == Some(Mark::Times));
        let (words, pieces, sized) = match habit {
            Some(Habit::Before) => {
                let (pieces, of, rest) = habit::before(body)?;
                (mark == Some(of)).then_some((rest, pieces, true))?
            }
            Some(Habit::Behind) if let Some((words, pieces)) = times() => (words, pieces, true),
            Some(Habit::Behind)
                if let Some((words, pieces)) = count_behind(body, self.notation)
                    && !is_chore(words) =>
            {
                (words, pieces, false)
            }
            _ => return self.counted_by_mark(body),
        };
        let mut callouts = describe(words, self.notation).ok()?;
        let [only] = callouts.as_mut_slice() else {
            return None;
        };
        // Without its count it has a size as such pieces do.
        let lacks_length = matches!(only.item.kind, Some(Kind::Bolt | Kind::Screw) | None)
            && only.item.length.is_none();
        let lacks_size = only.is_hardware() && (only.item.diameter.is_none() || lacks_length);
        // Parts have no size that a count could pass for.
        let told = !sized || (only.is_hardware() && !lacks_size);
        (only.quantity.is_none() && told).then_some(())?;
        only.quantity = Some(Quantity {
            pieces,
            packs: None,
        });
        Some(callouts)
    }

    /// A fastener's bare name, and behind a colon or a dash a whole number: how many, since a size has its
    /// own mark or unit there (`washers: 8`, `T nuts - 36`). Where more figures stand there, none is taken.
    /// Common practice, no source.
    fn counted_by_mark(&self, body: &str) -> Option<Vec<Callout>> {
        let mut marks = [": ", " - ", " \u{2013} ", " = "].into_iter();
        let (words, behind) = marks.find_map(|mark| body.split_once(mark))?;
        let figures = behind.bytes().take_while(u8::is_ascii_digit).count();
        let pieces: u64 = behind[..figures].parse().ok()?;
        let rest = behind[figures..].trim_end_matches('.');
        let goes_on = rest.starts_with([' ', ',']) && rest.contains(|c: char| c.is_ascii_digit());
        if words.contains(|c: char| c.is_ascii_digit()) || !(rest.is_empty() || goes_on) {
            return None;
        }
        let sized = describe(rest, self.notation)
            .is_ok_and(|all| all.iter().any(|callout| callout.item.diameter.is_some()));
        let mut callouts = describe(words, self.notation).ok()?;
        let [only] = callouts.as_mut_slice() else {
            return None;
        };
        let is_bare = only.is_hardware() && only.quantity.is_none() && only.item.diameter.is_none();
        (is_bare && !sized).then_some(())?;
        match rest.is_empty() {
            true => {
                only.quantity = Some(Quantity {
                    pieces,
                    packs: None,
                });
            }
            false => only.doubts.push(Doubt::Said(
                format!("\"{behind}\" says more than one figure: none is taken").into(),
            )),
        }
        Some(callouts)
    }

    /// Takes a whole number behind a fastener's name for how many where no such piece is as thick: `T nuts
    /// 36`.
    fn count_no_size(&self, body: &str, callouts: &mut Vec<Callout>) {
        let [only] = callouts.as_slice() else { return };
        let is_odd = |doubt: &Doubt| matches!(doubt, Doubt::OddDiameter(_));
        if !only.doubts.iter().any(is_odd) || only.quantity.is_some() {
            return;
        }
        let Some((words, pieces)) = count_behind(body, self.notation) else {
            return;
        };
        // Among words that are not known it may be anything.
        let strange = |doubt: &Doubt| matches!(doubt, Doubt::UnknownWords(_) | Doubt::LeftOver(_));
        if only.doubts.iter().any(strange) {
            return;
        }
        if let Ok(mut counted) = describe(words, self.notation)
            && let [only] = counted.as_mut_slice()
            && only.is_hardware()
            && only.item.diameter.is_none()
            && only.quantity.is_none()
        {
            only.quantity = Some(Quantity {
                pieces,
                packs: None,
            });
            *callouts = counted;
        }
    }

    /// The words of a plain part's line that say how many in no figure: `posts ok`, `posts twelve`.
    fn all_in_words<'t>(&self, text: &'t str) -> Option<&'t str> {
        let last = text
            .rsplit(' ')
            .next()
            .filter(|last| last.len() < text.len());
        let counts = |word: &&str| count::pieces(word, self.notation).is_some();
        remark::all_there(text).or_else(|| last.filter(counts))
    }

    /// Why a line of a slip or a count is not summed: its words say that the pieces are not there, or
    /// that not all of them are sound.
    fn in_words(&self, text: &str, entry: usize) -> Option<Aside> {
        let names_bag = || {
            let mut words = text.split(|c: char| !c.is_alphanumeric());
            words.any(|word| matches!(&*word.to_lowercase(), "bag" | "box" | "carton" | "crate"))
        };
        if let (Some(word), false) = (
            remark::taken_out(text),
            matches!(self.said[entry], Entry::Furniture),
        ) {
            return Some(Aside::InWords(format!("by its words it is {word}").into()));
        }
        let is_furniture = matches!(self.said[entry], Entry::Furniture);
        let plain = || self.begun && is_short(text, FEW);
        let is_line = !is_furniture || names_bag() || plain();
        let denied = || names_bag().then(|| remark::denied(text))?;
        let (words, why) = match self.list.role {
            Role::Shipped => (remark::not_sent(text).or_else(denied)?, "was not sent"),
            Role::Counted => (
                remark::counted_in_words(text)
                    .or_else(|| remark::not_sent(text))
                    .or_else(denied)
                    .or_else(|| self.all_in_words(text).filter(|_| is_furniture))?,
                "is no plain count: write good and damaged pieces apart",
            ),
            _ => return None,
        };
        is_line.then(|| Aside::InWords(format!("by its words it {why} (\"{words}\")").into()))
    }
}

/// Why a bag that is counted as such is to check.
pub(super) fn uncounted_inside() -> Doubt {
    Doubt::Said("bags are counted here, and not what is in them".into())
}

/// A part that is counted, and behind it in brackets a count that differs: `1 ridge board (2 pcs)`.
fn doubt_count_in_brackets(body: &str, callouts: &mut [Callout]) {
    static BRACKETS: LazyLock<Regex> =
        LazyLock::new(|| pattern(r"(?i)\((\d{1,5})\s?(?:pcs?|pieces?|off|ea|nos?)\.?\)$"));
    let [only] = callouts else { return };
    if let (Some(quantity), Some(found)) = (only.quantity, BRACKETS.captures(body))
        && let Ok(pieces) = found[1].parse::<u64>()
        && !only.is_hardware()
        && only.doubts.is_empty()
        && pieces != quantity.pieces
    {
        only.doubts.push(Doubt::OrElse {
            pieces,
            said: format!(
                "{} taken for how many: \"{}\" stands behind",
                quantity.pieces, &found[0]
            )
            .into(),
        });
    }
}

/// Among lines that begin with their count, a part with a figure in front that was not taken for its count:
/// `6 foot bars 600`.
fn doubt_count_behind(body: &str, callouts: &mut [Callout]) {
    let [only] = callouts else { return };
    let figures = body.bytes().take_while(u8::is_ascii_digit).count();
    let apart = body[figures..].starts_with(' ');
    if let (Ok(first), true, Some(quantity)) = (body[..figures].parse(), apart, only.quantity)
        && !only.is_hardware()
        && quantity.packs.is_none()
        && first != quantity.pieces
    {
        only.doubts.push(Doubt::OrElse {
            pieces: first,
            said: format!(
                "{} taken for how many: may be {first}, which stands in front as in the other lines",
                quantity.pieces
            )
            .into(),
        });
    }
}

/// A bag and its first count, what lies in none, and a bag in brackets behind: `Bag A: 4 x strap`, `Loose: 2 x
/// wheel`, `8 M8 nuts (bag B)`.
fn bagged(text: &str) -> Option<(Option<Container<'_>>, &str)> {
    if let Some(open) = text
        .rfind(['(', '['])
        .filter(|_| text.trim_end().ends_with([')', ']']))
        && let Some(container) =
            furniture::container(text[open..].trim_matches(['(', '[', ')', ']', ' ']))
        && text[..open].contains(|c: char| c.is_ascii_digit())
    {
        return Some((Some(container), text[..open].trim_end()));
    }
    let (label, rest) = text.split_once(':')?;
    let rest = rest.trim_start();
    let counts =
        rest.starts_with(|c: char| c.is_ascii_digit()) && rest.contains(char::is_alphabetic);
    let container = furniture::container(label);
    (counts && (container.is_some() || furniture::is_loose(label))).then_some((container, rest))
}

/// A bag in the first cell of a line, and the rest: `Bag A   8 x M12 bolts, 16 washers`.
fn bag_in_cell<'t>(row: &Row, text: &'t str) -> Option<(Option<Container<'t>>, &'t str)> {
    let first = row
        .cells()
        .map(|(cell, _)| cell.trim())
        .find(|cell| !cell.is_empty())?;
    let rest = text.trim_start().strip_prefix(first)?.trim_start();
    let counts = rest.starts_with(|c: char| c.is_ascii_digit());
    let label = &text.trim_start()[..first.len()];
    counts.then(|| Some((Some(furniture::container(label)?), rest)))?
}

/// Why a line that was not understood is put aside.
pub(super) const UNHEARD: &str =
    "it stands among the lines of the list, and no item with its count is found";

/// Words that a line of a list is written in, and one with figures.
const FEW: usize = 6;
const FEW_WITH_FIGURES: usize = 10;

/// True for what lists hold besides their lines.
fn is_paperwork(text: &str) -> bool {
    furniture::is_total(text)
        || furniture::is_note(text)
        || furniture::is_paper(text)
        || furniture::is_page_or_footnote(text)
        || furniture::names_list(text)
}

/// So many words at most, and no sentence.
fn is_short(text: &str, words: usize) -> bool {
    // Dots that lead to a count are no end of a sentence.
    let text = match text.ends_with("...") {
        true => text.trim_end_matches(['.', ' ']),
        false => text,
    };
    text.split_whitespace().count() <= words && !text.ends_with(['.', ':', '!']) && !is_prose(text)
}

/// The words by which a line without a size is that of another place: `Bay 2 same as bay 1`, `as bag D`.
fn refers(text: &str) -> Option<&str> {
    static ELSEWHERE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)\b(?:same|as)\s+(?:as|in|for|on)?\s*(?:(?:in|for|on)\s+)?(?:the\s+)?(?:bag|bay|box|carton|stage|step|side|panel|frame|set|kit)\s+(?:\d+|[a-z])$",
        )
    });
    let found = ELSEWHERE.find(text.trim_end_matches(['.', '!']))?.as_str();
    (!furniture::holds_size(text)).then_some(found)
}

/// Words that count in no number, or name one piece (common practice, no source).
const COUNTING: &[&str] = &[
    "a", "an", "the", "both", "pair", "pairs", "couple", "dozen", "twin", "lots", "some", "few",
    "several", "many", "all", "more", "each", "plenty",
];

/// True where words may be the title of the lines below: `Roof`, `Left side`, `gate`.
fn is_title_like(text: &str) -> bool {
    let mut words = text.split_whitespace();
    let first = words.next().unwrap_or_default();
    let plain = !text.contains(['(', ',', ';', '/']) && !text.contains(" - ");
    let closed = text.ends_with(':');
    let counts = COUNTING.contains(&first.to_lowercase().as_str());
    closed
        || (plain && !counts && (words.next().is_none() || first.starts_with(char::is_uppercase)))
}

/// Verbs by which a line asks for something to be done, and for no pieces (common practice, no source).
const CHORES: &[&str] = &[
    "ask", "call", "ring", "phone", "text", "mail", "email", "check", "measure", "clean", "tell",
    "meet", "remember", "remind", "return", "see", "find", "book", "pay",
];

/// True where a line asks for something to be done: `ask for the key to room 12`.
fn is_chore(text: &str) -> bool {
    let first = text.split(|c: char| !c.is_alphanumeric()).next();
    let more = text.split_whitespace().nth(1).is_some();
    first.is_some_and(|word| more && CHORES.contains(&word.to_lowercase().as_str()))
}

/// Plain words, and the count behind them.
pub(super) fn count_behind(text: &str, notation: Notation) -> Option<(&str, u64)> {
    count_in_figures(text).or_else(|| count_in_words(text, notation))
}

/// Words without a figure and a count in words behind a mark: `handrails: four`, `deck boards - two dozen`.
fn count_in_words(text: &str, notation: Notation) -> Option<(&str, u64)> {
    let text = text.trim_end_matches(|c: char| !c.is_alphanumeric());
    let marks = [": ", " - ", " \u{2013} ", " = ", ", "].into_iter();
    let mut parted = marks.filter_map(|mark| text.rsplit_once(mark));
    let (words, count) = parted.find_map(|(words, count)| {
        let figures = text.contains(|c: char| c.is_ascii_digit());
        let pieces =
            (!figures).then(|| count::pieces(&count.trim().replace('-', " "), notation))??;
        Some((words.trim(), pieces))
    })?;
    words
        .contains(char::is_alphabetic)
        .then_some((words, count))
}

/// Words that name no size, and the bare number behind them: `Pieces in bag: 46`, `FB-210 girder shoe 4`.
fn count_in_figures(text: &str) -> Option<(&str, u64)> {
    let text = text.trim_end_matches(|c: char| !c.is_alphanumeric());
    let words = text.trim_end_matches(|c: char| c.is_ascii_digit());
    let count = text[words.len()..].parse().ok()?;
    let before = words.trim_end_matches([' ', ':', '=', '.', '-', ',']);
    let named = match before.split_once(' ') {
        Some((first, rest)) if is_code(first) => rest,
        _ => before,
    };
    let counts = words.ends_with([' ', ':', '='])
        && !before.is_empty()
        && !before.ends_with(['x', 'X', '(', ','])
        && !before.ends_with(" of")
        && !named.contains(|c: char| c.is_ascii_digit())
        && !named
            .to_lowercase()
            .split(|c: char| !c.is_alphabetic())
            .any(|word| word == "qty" || word == "quantity");
    counts.then_some((before, count))
}

/// A maker's number: capitals and figures.
fn is_code(word: &str) -> bool {
    word.contains(|c: char| c.is_ascii_uppercase())
        && word.contains(|c: char| c.is_ascii_digit())
        && !word.contains(|c: char| c.is_ascii_lowercase())
}
