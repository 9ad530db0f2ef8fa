//! Lines of text: titles, bags and items.

use std::{borrow::Cow, sync::LazyLock};

use regex::Regex;

use super::{
    super::{
        count::{self, Count},
        guide::{is_prose, one_way},
        labelled::Labelled,
        line::{Aside, LineStatus},
        reading::{MOST_ITEMS, no_line_of},
        remark,
        role::Role,
        share::Share,
        usage::{Usage, usage, usage_beside},
        words::Words,
    },
    Entry, Reader,
    beside::{self, are_several},
    in_the_box::heads_one,
    key::{Key, LINE},
    kind, several, sizes, titles,
    unheard::{FEW, FEW_WITH_FIGURES, UNHEARD, is_short},
};
use crate::{
    Doubt,
    columns::{
        Meaning,
        furniture::{self, Container},
        talk,
    },
    notation::{Callout, Notation, again, describe},
    source::{Format, Row},
    words::{fold, pattern},
};

impl Reader<'_> {
    /// A line of text, or a row without headings above it.
    pub(super) fn list_row(&mut self, row: &Row, fresh: bool) {
        // What stands right below a stage's title is said of it: `Time: two hours`.
        let is_begun = self.list.lines.len() > self.stage_from || self.guide.has_sentences();
        let apart = self.after_blank && (is_begun || self.stage.is_empty());
        let taken = (
            self.list.lines.len(),
            self.guide.rows.len(),
            self.stage_from,
        );
        self.row_of_list(row, fresh);
        let is_none = taken
            == (
                self.list.lines.len(),
                self.guide.rows.len(),
                self.stage_from,
            );
        self.over_sentences = None;
        let in_guide = self.list.role == Role::Required && self.list.format == Format::Text;
        if is_none && in_guide && self.run_on.is_empty() && self.guide.has_sentences() {
            self.take_places_below(&row.joined());
        }
        if is_none && apart && in_guide {
            let text = row.joined();
            let title = titles::over_sentences(&text).filter(|title| *title != self.stage);
            let title = title.filter(|_| furniture::container(&text).is_none());
            self.over_sentences = title.map(|title| (row.number, title.to_owned()));
        }
        self.after_blank = false;
    }

    /// Keeps a few words below sentences that name more places and nothing to do there: unless sentences follow, the ones
    /// above may go for those, too.
    fn take_places_below(&mut self, text: &str) {
        let few = text.split_whitespace().count() < FEW;
        let names = few && !text.contains(|c: char| c.is_ascii_digit()) && again(text).is_some();
        let is_title = furniture::stage_title(text).is_some() || furniture::is_note(text);
        if names && !is_title {
            self.guide.places_below = Some(text.trim().to_owned());
        }
    }

    fn row_of_list(&mut self, row: &Row, fresh: bool) {
        let whole = row.cells().next().filter(|_| row.filled() == 1);
        if let Some(title) = whole.and_then(|(text, _)| furniture::title_with_marks(text)) {
            return self.row_of_list(&Row::of_text(row.number, &title), fresh);
        }
        if self.take_prose(row) {
            return;
        }
        let heading_like = self.is_heading_like(row);
        if fresh && (heading_like || self.may_be_kind(row)) {
            self.held = Some(row.clone());
            return;
        }
        let mut text = std::mem::take(&mut self.line);
        self.join_row(row, &mut text);
        text.truncate(self.usual.without_price(&text).len());
        if let Some(whole) = kind::under(&self.kind_above, &text, self.notation) {
            text = whole;
        }
        // Headings of which too few are known to make a table are still no items.
        let counts = || (row.cells()).any(|(text, _)| count::is_count(text, self.notation));
        let is_heading = heading_like && !counts() && !self.names_hardware(&text);
        // What is in a bag is asked once the bag is off.
        let bagged =
            || furniture::container_and_rest(&text).is_some() || self.and_contents(&text).is_some();
        let lines = match is_heading || bagged() {
            true => None,
            false => several::lines(row, &text, self.notation),
        };
        let worst = match &lines {
            Some(lines) => self.lines_of_row(row, lines),
            None if is_heading => None,
            None => self.list_line(row, &text),
        };
        if self.keep_words && worst.is_some() && lines.is_none() {
            let whole = furniture::without_bullet(&text);
            let shared = Share::behind(&whole);
            let body = shared.map_or(&*whole, |(body, ..)| body);
            // What was read; what was said about it stands beside.
            let said = self.without_talk(body);
            let (before, behind) = said
                .as_deref()
                .and_then(|said| body.split_once(said))
                .unwrap_or_default();
            self.words_of(row.number, said.as_deref().unwrap_or(body), "", None);
            // The bullet or number in front, and what says how the count comes about.
            let lead = text.trim().strip_suffix(&*whole).unwrap_or_default().trim();
            let inside = shared.map_or("", |(_, inside, _)| inside);
            let beside = [lead, before.trim(), behind.trim(), inside];
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

    /// Takes the lines that a row holds, and gives the worst of their states: where one is not understood, it is no
    /// heading.
    fn lines_of_row(&mut self, row: &Row, lines: &[String]) -> Option<LineStatus> {
        if lines.len() > MOST_ITEMS {
            return self.too_many_lines(row, lines.len());
        }
        let first = self.list.lines.len();
        let mut worst = None;
        for line in lines {
            let before = self.list.lines.len();
            let taken = self.list_line(row, line).or_else(|| {
                let place = self.placement_of_text(|_| None);
                let why =
                    format!("\"{line}\" stands among lines of pieces: how many, and of what?");
                self.push_aside(row, place, Aside::NoItem(why.into()))
            });
            worst = worst.max(taken);
            for _ in before..self.list.lines.len().max(before + 1) {
                if self.keep_words {
                    self.words_of(row.number, line, "", None);
                }
            }
        }
        self.stand_together(first, worst?);
        worst
    }

    /// Puts a row aside that holds so many lines: each would show the whole of it.
    fn too_many_lines(&mut self, row: &Row, found: usize) -> Option<LineStatus> {
        let place = self.placement_of_text(|_| None);
        self.push_aside(row, place, Aside::NoItem(no_line_of(found)))
    }

    /// The cells of a row as a line: an empty cell parts sizes.
    fn join_row(&self, row: &Row, line: &mut String) {
        line.clear();
        let mut before = "";
        for (at, (cell, _)) in row.cells().enumerate() {
            if !cell.is_empty() && !line.is_empty() {
                let mut behind = row.cells().skip(at + 1);
                let counted = || behind.any(|(text, _)| count::is_count(text, self.notation));
                line.push_str(sizes::between(before, cell, counted));
            }
            line.push_str(cell);
            before = cell;
        }
    }

    /// Keeps what a line of text was read from. `said`: what the rest of its sentence says.
    pub(super) fn words_of(
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

    fn list_line(&mut self, row: &Row, text: &str) -> Option<LineStatus> {
        if furniture::is_total(text) {
            return self.item_line(row, text);
        }
        if let Some(stage) = furniture::stage_title(text) {
            // A title that calls for hardware is a title and a line.
            let titled = furniture::title_and_rest(stage)
                .into_iter()
                .chain(furniture::step_and_rest(stage))
                // `step 5, 4 5/8 x 6 hex bolts`
                .chain(stage.split_once(", "))
                .find(|(_, rest)| {
                    self.calls(rest) || self.calls_for(rest) || self.names_sized(rest)
                });
            let Some((title, rest)) = titled else {
                self.enter_numbered(text, stage);
                return None;
            };
            self.enter_numbered(text, title);
            return self.item_line(row, rest);
        }
        if self.heads_tail(text) {
            self.enter_stage(furniture::unmark(text));
            self.tail.get_or_insert(self.list.lines.len());
            return None;
        }
        let heading = furniture::markdown_heading(text);
        if let Some((level, title)) = heading.filter(|(_, of)| of.contains(char::is_alphabetic)) {
            // The first names the whole.
            if level > 1 || self.is_guide() || self.is_headed {
                self.enter_titled(title, level);
            }
            self.is_headed = true;
            return None;
        }
        if let Some((container, pieces)) = self.container_sent(row, text) {
            let status = self.bag_as_such(row, container, None, Some(pieces), Vec::new());
            self.bag_above = Some(self.list.lines.len() - 1);
            return status;
        }
        if self.list.role == Role::Counted
            && let Some(container) = furniture::container_denied(text)
        {
            return self.bag_as_such(row, container, Some(false), None, Vec::new());
        }
        if let Some(container) = furniture::container(text) {
            self.enter_container(container);
            self.take_bare_bag(row, text);
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
        let counted = |rest: &str| beside::count_behind(rest, self.notation).is_some();
        let called = furniture::container_and_rest(text).filter(|(_, rest)| {
            self.calls(rest) || counted(rest) || lines_of(row, rest, self.notation).is_some()
        });
        let called = called.map(|(container, rest)| (Some(container), rest));
        if let Some((container, rest)) = called
            .map(|(container, rest)| (container, Cow::Borrowed(rest)))
            .or_else(|| bagged(text))
            .or_else(|| Some(bag_in_cell(row, text)?).map(|(of, rest)| (of, rest.into())))
            .or_else(|| Some(self.and_contents(text)?).map(|(of, rest)| (of, rest.into())))
        {
            let before = (self.bag.clone(), self.carton.clone());
            match container {
                Some(container) => self.enter_container(container),
                None => (self.bag, self.carton) = Default::default(),
            }
            let rest = &*rest;
            let first = self.list.lines.len();
            let lines = lines_of(row, rest, self.notation);
            let worst = match lines {
                Some(lines) if lines.len() > MOST_ITEMS => self.too_many_lines(row, lines.len()),
                Some(lines) => lines
                    .iter()
                    .fold(None, |worst, line| worst.max(self.item_line(row, line))),
                None => self.item_line(row, rest),
            };
            (self.bag, self.carton) = before;
            return worst.max(self.doubt_in_bags(text, first));
        }
        if self.is_numbered_title(text) {
            self.titles_numbered += 1;
            self.enter_titled(furniture::unmark(text), 0);
            return None;
        }
        let closed = text.trim_end().ends_with(':');
        let of_guide = titles::of_guide(text).filter(|_| self.is_title_of_guide(text));
        let numbered = furniture::numbered_title(text)
            .filter(|(number, _)| *number == self.titles_numbered + 1 && self.after_blank);
        let in_turn = furniture::title_in_turn(text).map(|(title, _)| title);
        let title = furniture::bare_title(text)
            .or(numbered.map(|(_, title)| title))
            .or(of_guide)
            .or(in_turn)
            .or_else(|| remark::named_option(text).and(Some(text)))
            .or_else(|| self.title_of_use(text))
            .filter(|title| closed || !titles::counts_in_words(title));
        let begins = in_turn.is_some() && self.list.lines.is_empty();
        let closed = closed || begins || of_guide.is_some();
        if let Some(title) = title
            && (closed || self.after_blank)
            && self.list.role == Role::Required
            && self.list.format == Format::Text
            && !describe(text, self.notation).is_ok_and(|all| all.iter().any(Callout::is_hardware))
        {
            self.titles_numbered += u32::from(numbered.is_some());
            // `Legs` right above `Steps`
            if self.bare_title.is_empty() || !self.sections.contains(&fold(title)) {
                self.bare_title.clear();
                self.bare_title.push_str(title);
            }
            return None;
        }
        if furniture::is_loose(text) {
            self.bag.clear();
            self.carton.clear();
            return None;
        }
        self.item_line(row, text)
    }

    /// True for the title of a list of all hardware behind the sentences of a guide: `Hardware list`. One that comes again
    /// is a part of each stage.
    fn heads_tail(&self, text: &str) -> bool {
        let title = furniture::unmark(text);
        let deeper = furniture::markdown_heading(text)
            .is_some_and(|(marks, _)| marks > self.stage_level.max(1));
        self.list.role == Role::Required
            && self.list.format == Format::Text
            && self.is_guide()
            && !deeper
            && furniture::is_plain(title)
            && heads_one(&title.to_lowercase())
            && !self.sections.contains(&fold(title))
    }

    /// A title below other lines that says what becomes of those under it, or which of them are needed: `Not supplied
    /// with the kit:`, `You also need:`.
    pub(super) fn title_of_use<'t>(&self, text: &'t str) -> Option<&'t str> {
        let title = text.trim_end().strip_suffix(':')?.trim();
        let says = || usage(title).is_some() || remark::qualifies_lines(title);
        (!self.list.lines.is_empty()
            && title.split_whitespace().count() <= FEW_WITH_FIGURES
            && says())
        .then_some(title)
    }

    /// True where sentences were read.
    pub(super) fn is_guide(&self) -> bool {
        self.list.from_sentences || self.guide.has_sentences()
    }

    /// True where a line stands apart from the sentences of a guide: behind a whole one, or by a blank line.
    fn is_title_of_guide(&self, text: &str) -> bool {
        let is_numbered = furniture::numbered_title(text).is_some();
        self.is_guide() && (self.after_blank || (is_numbered && self.guide.is_closed()))
    }

    /// Doubts the lines from one on where their title says how many such bags there are: `Bag A x2 - bolts 16`.
    fn doubt_in_bags(&mut self, text: &str, first: usize) -> Option<LineStatus> {
        let (title, _) = furniture::title_and_rest(text)?;
        let whole = furniture::container(title).is_some();
        let container = furniture::containers_counted(title).filter(|_| !whole)?;
        let (Container::Bag(name) | Container::Box(name)) = container;
        let (_, behind) = title.split_once(name)?;
        let figures = behind.split(|c: char| !c.is_ascii_digit());
        let times = figures
            .filter_map(|figure| figure.parse::<u64>().ok())
            .find(|times| *times > 1)?;
        let doubt = format!("\"{title}\": taken as in all of them, and not in each");
        for line in &mut self.list.lines[first..] {
            let pieces = line.quantity.unwrap_or(0).saturating_mul(times);
            let said = doubt.as_str().into();
            line.more_mut().doubts.push(Doubt::OrElse { pieces, said });
        }
        (self.list.lines.len() > first).then_some(LineStatus::Check)
    }

    /// True for the next of the titles that are numbered in turn without a mark: `2 Roof`.
    pub(super) fn is_numbered_title(&self, text: &str) -> bool {
        self.usual.numbers_titles
            && self.list.role == Role::Required
            && titles::numbered(text).is_some_and(|turn| turn.comes_after(self.titles_numbered))
    }

    /// A line that counts bags as such: what is in them is not counted. It may head what is counted of one.
    fn containers_counted(
        &mut self,
        row: &Row,
        container: Container<'_>,
        text: &str,
    ) -> Option<LineStatus> {
        if text.trim_end().ends_with(':') {
            self.enter_container(container);
        }
        self.bag_as_such(row, container, None, None, vec![Doubt::uncounted_inside()])
    }

    /// A bag, and how many, on a slip: `bag A   1`, `3 x hardware bag H1`, `Bag H1 x 3`.
    fn container_sent<'t>(&self, row: &Row, text: &'t str) -> Option<(Container<'t>, u64)> {
        static COUNTED: LazyLock<Regex> = LazyLock::new(|| {
            pattern(
                r"(?i)^\s*(?:(?P<first>\d{1,4})\s*(?:x|\x{d7}|off|no\.?|pcs?)?\s+(?P<behind>\S.*?)|(?P<before>\S.*?)[\s:]+(?:x|\x{d7})\s?(?P<last>\d{1,4}))\s*$",
            )
        });
        if self.list.role != Role::Shipped || !furniture::names_container(text) {
            return None;
        }
        let filled = row
            .cells()
            .map(|(cell, _)| cell)
            .filter(|cell| !cell.is_empty());
        let in_cells = || {
            let count = filled.last().filter(|_| row.filled() == 2)?;
            Some((
                text.strip_suffix(count)?.trim_end(),
                count::pieces(count, self.notation)?,
            ))
        };
        let in_words = || {
            let found = COUNTED.captures(text)?;
            let name = found.name("behind").or(found.name("before"))?.as_str();
            let pieces = found.name("first").or(found.name("last"))?;
            Some((name, pieces.as_str().parse().ok()?))
        };
        let of_bag = |(name, pieces)| Some((furniture::container(name)?, pieces));
        in_cells()
            .and_then(of_bag)
            .or_else(|| in_words().and_then(of_bag))
    }

    /// A bag or box in front of what it holds, without a mark: pieces with their count.
    fn and_contents<'t>(&self, text: &'t str) -> Option<(Option<Container<'t>>, &'t str)> {
        furniture::container_and_contents(text).filter(|(_, rest)| {
            let begins = rest.starts_with(|c: char| c.is_ascii_digit());
            self.calls(rest) || (begins && are_several(rest))
        })
    }

    /// A line that names a bag or a box as such.
    fn bag_as_such(
        &mut self,
        row: &Row,
        container: Container<'_>,
        received: Option<bool>,
        pieces: Option<u64>,
        doubts: Vec<Doubt>,
    ) -> Option<LineStatus> {
        let before = (self.bag.clone(), self.carton.clone());
        self.enter_container(container);
        let place = self.placement_of_text(|_| None);
        (self.bag, self.carton) = before;
        self.push_bag(row, place, received, pieces, doubts)
    }

    /// Doubts a bag as such on a slip right below which a line stands: it may be in the bag.
    pub(super) fn doubt_bag_above(&mut self) {
        if let Some(at) = self.bag_above.take() {
            let doubt = "what stands below it may be in it, and not beside it";
            let line = &mut self.list.lines[at];
            line.more_mut().doubts.push(Doubt::HowMany(doubt.into()));
            self.tally.read -= 1;
            self.tally.check += 1;
        }
    }

    /// Keeps the title of a bag on a slip until a line stands below it.
    fn take_bare_bag(&mut self, row: &Row, text: &str) {
        let is_bag = matches!(furniture::container(text), Some(Container::Bag(_)));
        let is_slip = self.list.role == Role::Shipped && self.list.format == Format::Text;
        self.bare_bag = (is_bag && is_slip && !text.trim_end().ends_with(':')).then(|| row.clone());
    }

    /// Takes a bag below which nothing stands on a slip for the bag as such: `Bag 1`, `Bag 2`.
    pub(super) fn end_bare_bag(&mut self) {
        let Some(row) = self.bare_bag.take() else {
            return;
        };
        let text = row.joined();
        let Some(container) = furniture::container(&text) else {
            return;
        };
        let doubt = Doubt::Said("nothing stands below it: taken for one whole bag".into());
        self.bag_as_such(&row, container, None, Some(1), vec![doubt]);
        self.tally.other -= 1;
        self.tally.check += 1;
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

    /// A line without the talk about it, where what is left calls for pieces of hardware, or begins with a count of
    /// several: `got 4 leg tubes`.
    fn without_talk<'t>(&self, text: &'t str) -> Option<Cow<'t, str>> {
        let counts = |rest: &str| {
            let words = rest.trim_start_matches(|c: char| c.is_ascii_digit());
            let led = text.ends_with(rest) && text.starts_with(char::is_alphabetic);
            let plain = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-');
            led && words.len() < rest.len()
                && words.starts_with(' ')
                && words.chars().all(plain)
                && are_several(words)
                && is_short(rest, FEW)
        };
        talk::without_talk(text).filter(|rest| self.calls(rest) || counts(rest))
    }

    /// True where a text that is no sentence names hardware with a size.
    fn names_sized(&self, text: &str) -> bool {
        let sized = |callout: &Callout| callout.is_hardware() && callout.item.diameter.is_some();
        !is_prose(text) && describe(text, self.notation).is_ok_and(|all| all.iter().any(sized))
    }

    /// A line of text that is no title.
    fn item_line(&mut self, row: &Row, text: &str) -> Option<LineStatus> {
        self.begun |= !self.list.lines.is_empty()
            || self
                .usual
                .begins_at
                .is_some_and(|first| row.number >= first);
        let mut body = furniture::without_bullet(text);
        if let Some(rest) = without_addresses(&body) {
            body = rest.into();
        }
        if let Some(rest) = self.without_talk(&body) {
            body = rest.into_owned().into();
        }
        let mut count = Count::default();
        if let Some((whole, doubt)) = self.undittoed(&body) {
            body = whole.into();
            count.doubts.extend(doubt);
        }
        if let Some((written, pieces, whole)) = beside::misread(&body) {
            let doubt =
                format!("\"{written}\" read as {pieces}: a letter in the place of a figure");
            count.doubts.push(Doubt::HowMany(doubt.into()));
            body = whole.into();
        }
        let labelled = Labelled::of(&body, self.list.role);
        let mut is_line = false;
        if let Some(said) = labelled.filter(|_| !furniture::is_paper(&body)) {
            count.take(&said, self.list.role);
            let names = |text: &str| !furniture::is_total(text) && !furniture::is_note(text);
            // `Rail found 4`
            let named = self.begun
                && is_short(&said.rest, FEW)
                && said.rest.split(' ').next().is_some_and(|first| {
                    first.contains(char::is_alphabetic) && body.starts_with(first)
                });
            is_line = (said.is_several() || named) && names(&said.rest);
            body = said.rest.into();
        }
        if self.list.role == Role::Counted
            && let Some(rest) = remark::without_all_well(&body)
        {
            body = rest.to_owned().into();
        }
        let asks = matches!(self.list.role, Role::Required | Role::Compared);
        if self.list.role == Role::Counted {
            let told = told_behind(&body).filter(|_| self.calls(&body));
            count.doubts.extend(told.map(Doubt::Remark));
        }
        let beside = usage_beside(&body).filter(|_| asks);
        if let Some((rest, _)) = &beside {
            body = rest.clone().into();
        }
        self.take_sets(&mut count);
        count.doubts.extend(self.way.as_deref().map(one_way));
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
                    let said = self.describe(callouts, false);
                    let word = |_: &Self, at| if at == 0 { &*body } else { "" }.into();
                    self.keep_open(word, &said);
                    said
                }
                None => Entry::Furniture,
            };
        }
        let why = count.aside.take();
        let why = why.or_else(|| self.in_words(&body, entry));
        let why = why.or_else(|| self.unticked(row));
        let why = why.or_else(|| self.not_counted(text, entry));
        if let Some(aside) = why.or_else(|| self.unticked(row)) {
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
                let beside = beside.map(|(_, usage)| usage);
                let brought = beside.or_else(|| self.brought(entry)).map(Usage::as_str);
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
                    if self.is_written_as_line(row, text, &body) || self.hides_hardware(&body) {
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
                    } else if self.hides_figures(&body) || self.may_count_in_front(text, &body) {
                        self.passed_figures.push((row.number, text.to_owned()));
                    } else if !self.begun && self.list.format == Format::Text {
                        self.pass_title(row);
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
}

/// What is said of a count behind a comma: `nuts M8 8, see Bo`, `8 rails, from the label`.
fn told_behind(body: &str) -> Option<Box<str>> {
    let (counted, told) = body.rsplit_once(", ")?;
    let first = told.split(' ').next()?.to_lowercase();
    let counts = counted.contains(|c: char| c.is_ascii_digit());
    let says = counts && several::REMARKS.contains(&first.as_str());
    (says && remark::may_change(told, Role::Counted)).then(|| told.into())
}

/// A text without addresses on the web and of mail: nothing of one is a size or a number. `None` where there is none.
fn without_addresses(text: &str) -> Option<String> {
    static ADDRESS: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r#"(?i)^[(<"']*(?:[a-z]+://|www\.|mailto:|[\w.+-]+@[\w-]+\.\w|(?:[a-z]{3,}\.)+[a-z]{2,}/)"#,
        )
    });
    let is_address = |word: &&str| word.contains(['/', '.']) && ADDRESS.is_match(word);
    let found = text.split_whitespace().any(|word| is_address(&word));
    let rest = || text.split_whitespace().filter(|word| !is_address(word));
    found.then(|| rest().collect::<Vec<_>>().join(" "))
}

/// The lines that the rest of a row holds behind its bag, if several.
fn lines_of(row: &Row, rest: &str, notation: Notation) -> Option<Vec<String>> {
    several::lines(&Row::of_text(row.number, rest), rest, notation)
}

/// A bag and its first count, what lies in none, and a bag behind: `Bag A: 4 x strap`, `Loose: 2 x
/// wheel`, `8 M8 nuts (bag B)`.
pub(super) fn bagged(text: &str) -> Option<(Option<Container<'_>>, Cow<'_, str>)> {
    if let Some((at, container)) = furniture::container_behind(text)
        && (text[at.clone()].contains(['(', '[']) || !is_prose(text))
    {
        let rest = format!("{}{}", &text[..at.start], &text[at.end..]);
        if rest.contains(|c: char| c.is_ascii_digit()) {
            return Some((Some(container), rest.into()));
        }
    }
    let (label, rest) = text.split_once(':')?;
    let rest = rest.trim_start();
    let counts =
        rest.starts_with(|c: char| c.is_ascii_digit()) && rest.contains(char::is_alphabetic);
    let container = furniture::container(label);
    (counts && (container.is_some() || furniture::is_loose(label)))
        .then_some((container, rest.into()))
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
