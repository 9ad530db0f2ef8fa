//! The lines of a row, one for each of its items.

use super::{
    super::{
        count::{Count, Single},
        line::LineStatus,
        line::{Aside, Line, More, What},
        open::Open,
        remark,
        role::Role,
        share::Share,
        text::TextAt,
        usage::Usage,
    },
    Entry, Found, Reader,
    totals::Held,
};
use crate::{
    Doubt,
    hardware::{Item, Kind},
    notation::Quantity,
    source::Row,
};

/// True for a minus right in front of a figure; a bullet stands apart.
pub(super) fn begins_with_minus(text: &str) -> bool {
    let text = text.trim_start();
    let rest = match text.strip_prefix('\u{2212}') {
        Some(rest) => Some(rest.trim_start()),
        None => text.strip_prefix(['-', '\u{2013}']),
    };
    rest.is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
}

impl Reader<'_> {
    /// Pushes a line for each item of a row, and gives the worst of their states.
    pub(super) fn push_items(
        &mut self,
        row: &Row,
        place: u32,
        found: std::ops::Range<u32>,
        count: &Count,
    ) -> LineStatus {
        let mut of_row = count.doubts.clone();
        if row.hidden {
            of_row.push(Doubt::HiddenRow);
        }
        if let Some(column) = row.struck {
            let struck = row.get(column.into());
            let doubt = format!("\"{struck}\" is struck out in the sheet: taken all the same");
            of_row.push(Doubt::HowMany(doubt.into()));
        }
        of_row.extend(self.signs.get(&row.number).cloned());
        of_row.extend(self.doubt_of_signs(row));
        let remarks = row.comments.iter().map(|said| said.trim());
        let remarks = remarks.filter(|said| remark::may_change(said, self.list.role));
        of_row.extend(remarks.map(|said| Doubt::Remark(said.into())));
        if let Some(doubts) = self.place_doubts.get(&place) {
            let accounted = |doubt: &&Doubt| match (doubt, count.pieces) {
                (Doubt::Remark(note), Some(each)) => Share::of(note)
                    .is_some_and(|share| share.makes(each.saturating_mul(count.places.into()))),
                _ => false,
            };
            of_row.extend(doubts.iter().filter(|doubt| !accounted(doubt)).cloned());
        }
        of_row.extend(self.lacking.clone().map(Doubt::Remark));
        let first = self.found[found.start as usize];
        if count.stated && first.doubted {
            Open::count_beside(&mut self.list.open, first.reading);
        }
        let text = self.push_text(row);
        let several = found.len() > 1;
        // "12 bolts c/w nut and 2 washers" beside a count of 12 counts the sets once.
        let counted_in_text = several
            && count.pieces.is_some_and(|pieces| {
                let first = self.found[found.start as usize].quantity;
                pieces > 1 && first.is_some_and(|q| q.pieces == pieces)
            });
        let divides = several && self.divide_count(found.clone(), count, &mut of_row);
        if several && !counted_in_text && !divides {
            of_row.extend(self.counts_no_joint(found.clone(), count));
        }
        let mut each_before = None;
        let mut worst = LineStatus::Read;
        let first = self.list.lines.len();
        for index in found {
            let Found {
                reading,
                quantity,
                along,
                is_pack,
                places,
                doubted,
                ..
            } = self.found[index as usize];
            let mut doubts = of_row.clone();
            let (pieces, packs) = if divides {
                (quantity.map(|of| of.pieces), None)
            } else if several && !counted_in_text {
                let is_first = self.list.lines.len() == first;
                match (count.pieces, quantity) {
                    // `with 4 bolts and nuts`
                    (Some(sets), None) if let Some(each) = each_before => {
                        doubts.push(Doubt::HowMany(
                            format!("how many is not stated: taken as many as stand before it, {each} of each")
                                .into(),
                        ));
                        (sets.checked_mul(each), None)
                    }
                    (Some(sets), Some(each)) if !is_first => {
                        each_before = Some(each.pieces);
                        let (pieces, doubt) = along.beside(each.pieces, sets);
                        doubts.extend(doubt);
                        (pieces, None)
                    }
                    (Some(sets), Some(each)) => (sets.checked_mul(each.pieces), None),
                    (Some(sets), None) => (Some(sets), None),
                    (None, Some(each)) => (Some(each.pieces), each.packs),
                    (None, None) => (None, None),
                }
            } else {
                together(count, quantity, is_pack, &mut doubts)
            };
            // A blank cell of a count is not counted; of what is left over, nothing was found.
            let may_be_blank = matches!(self.list.role, Role::Counted | Role::LeftOver);
            if let Some(pieces) = pieces
                && may_be_blank
                && self.has_headings()
                && !count.stated
            {
                let said = format!("{pieces} stands in its name, and nothing where it is counted");
                doubts.push(Doubt::HowMany(said.into()));
            }
            if pieces.is_none()
                && doubts.is_empty()
                && (!may_be_blank || !self.has_headings())
                && self.list.placements[place as usize].usage != Some(Usage::Reference)
            {
                doubts.push(Doubt::NoQuantity);
            }
            if pieces.is_none()
                && doubts.is_empty()
                && self.list.role == Role::Counted
                && self.name_hides_count(reading, count.stated)
            {
                doubts.push(Doubt::NoQuantity);
            }
            // `rails?`
            let is_open = |cell: &&str| cell.ends_with(['?', '\u{2717}', '\u{2718}', '\u{274c}']);
            if pieces.is_some()
                && doubts.is_empty()
                && self.list.role == Role::Counted
                && let Some(cell) = row.cells().map(|(cell, _)| cell.trim_end()).find(is_open)
            {
                doubts.push(Doubt::Remark(cell.into()));
            }
            doubts.extend(pieces.and_then(|pieces| self.usual.row_numbers.doubt(pieces)));
            if doubted || !doubts.is_empty() {
                worst = LineStatus::Check;
            }
            let line = Line {
                sheet: self.sheet,
                places: count.places.saturating_mul(places),
                ..Line::new(row.number, text, What::Item(reading), place, pieces)
            };
            self.list.lines.push(line.with(More {
                damaged: count.damaged,
                back_ordered: count.back_ordered,
                packs,
                pack_size: count.pack_size,
                doubts,
            }));
            self.shown += row.bytes() as u64;
        }
        if !count.doubts.contains(&Doubt::AsRequired) {
            let lines = &self.list.lines[first..];
            let pieces = lines.iter().try_fold(0u64, |sum, line| {
                Some(sum.saturating_add(at_all_places(line)?))
            });
            let each = count.pieces.or(lines[0].quantity);
            self.totals
                .line(each, lines[0].places, pieces, lines[0].packs());
        }
        self.stand_together(first, worst);
        worst
    }

    /// The items of one row, its lines from `first` on, stand or fall together: one in doubt puts all of them in doubt.
    pub(super) fn stand_together(&mut self, first: usize, worst: LineStatus) {
        if worst == LineStatus::Read {
            return;
        }
        for at in first..self.list.lines.len() {
            if self.list.status_of(&self.list.lines[at]) == LineStatus::Read {
                let doubts = &mut self.list.lines[at].more_mut().doubts;
                doubts.push(Doubt::RowInDoubt);
            }
        }
    }

    /// What the signs of a line say that the other lines do not bear: `-2 hex bolts` below those that are counted, a box
    /// without a tick.
    fn doubt_of_signs(&self, row: &Row) -> Option<Doubt> {
        let text = row.cells().next().map_or("", |(text, _)| text.trim());
        let says = |doubt: &str| Some(Doubt::HowMany(doubt.into()));
        if self.layout.is_some() {
            return None;
        }
        if begins_with_minus(text) && !self.usual.minus {
            return says("a minus stands in front: it may be taken away from what is there");
        }
        let is_count = self.list.role == Role::Counted && !self.usual.ticked;
        let open = text.contains("[ ]") || text.contains('\u{2610}');
        if open && is_count && !self.usual.boxed {
            return says("its box is not ticked: it may not be counted yet");
        }
        let crossed = text.strip_prefix(['x', 'X']).is_some_and(|rest| {
            rest.trim_start().len() < rest.len()
                && rest.trim_start().starts_with(|c: char| c.is_ascii_digit())
        });
        match crossed && is_count && self.usual.parting.is_none() {
            true => says("an x stands in front: it may be crossed out"),
            false => None,
        }
    }

    /// True in a table whose headings say which cell of a count may stay blank.
    fn has_headings(&self) -> bool {
        self.layout.as_ref().is_some_and(|layout| !layout.headless)
    }

    /// A doubt where a figure stands beside fasteners that are no joint, of which the text counts some: `M8 nut 24, M6
    /// washer` beside 9 may be 9 washers. A joint has a bolt, and one diameter.
    fn counts_no_joint(&self, found: std::ops::Range<u32>, count: &Count) -> Option<Doubt> {
        let found = &self.found[found.start as usize..found.end as usize];
        let items = || {
            found
                .iter()
                .map(|of| &self.list.readings[of.reading as usize].item)
        };
        let is_part = |item: &Item| item.kind == Some(Kind::Part);
        let has_bolt = items().any(|item| item.kind.is_some_and(Kind::is_long));
        let size = items().next()?.diameter;
        let one_size = items().all(|item| item.diameter == size);
        let is_joint = has_bolt && one_size || items().any(is_part);
        let counts = found.iter().filter_map(|of| of.quantity);
        let counts: Vec<String> = counts.map(|of| of.pieces.to_string()).collect();
        let beside = count
            .pieces
            .filter(|_| !is_joint && counts.iter().any(|of| of != "1"))?;
        let told = counts.join(" and ");
        Some(Doubt::HowMany(
            format!("{told} in its text beside {beside}: taken for each of {beside}, and they are no joint").into(),
        ))
    }

    /// True where the figures of a row's text divide its count: `Rafter tie, 6 left 6 right` beside 12. Where they
    /// may be of each, that is a doubt (common practice, no source).
    fn divide_count(
        &self,
        found: std::ops::Range<u32>,
        count: &Count,
        doubts: &mut Vec<Doubt>,
    ) -> bool {
        let found = &self.found[found.start as usize..found.end as usize];
        let is_part = |of: &Found| {
            let item = &self.list.readings[of.reading as usize].item;
            item.kind == Some(Kind::Part)
        };
        let figures = found.iter().map(|of| Some(of.quantity?.pieces));
        let Some(figures) = figures.collect::<Option<Vec<u64>>>() else {
            return false;
        };
        let Some(pieces) = count.pieces.filter(|_| found.iter().all(is_part)) else {
            return false;
        };
        let sum = figures.iter().copied().fold(0, u64::saturating_add);
        let divides = sum == pieces;
        if pieces > 1 && (!divides || figures.iter().all(|&figure| figure == 1)) {
            let taken = if divides { "in all" } else { "for each" };
            doubts.push(Doubt::HowMany(
                format!("{sum} in its name beside {pieces}: taken {taken}").into(),
            ));
        }
        divides
    }

    /// True where the name of a part on a count may hold the count itself.
    fn name_hides_count(&self, reading: u32, stated: bool) -> bool {
        let part = self.list.readings[reading as usize].item.part.as_ref();
        let name = part.and_then(|part| part.description.as_deref());
        let in_text = self.layout.is_none() && !stated;
        name.is_some_and(|name| remark::may_hide_count(name, in_text) || ends_in_count(name))
    }

    pub(super) fn push_bag(
        &mut self,
        row: &Row,
        placement: u32,
        received: Option<bool>,
        quantity: Option<u64>,
        doubts: Vec<Doubt>,
    ) -> Option<LineStatus> {
        let text = self.push_text(row);
        let status = if doubts.is_empty() {
            LineStatus::Read
        } else {
            LineStatus::Check
        };
        let line = Line {
            sheet: self.sheet,
            ..Line::new(
                row.number,
                text,
                What::Bag { received },
                placement,
                quantity,
            )
        };
        self.list.lines.push(line.with(More {
            doubts,
            ..More::default()
        }));
        self.shown += row.bytes() as u64;
        Some(status)
    }

    pub(super) fn push_aside(
        &mut self,
        row: &Row,
        placement: u32,
        aside: Aside,
    ) -> Option<LineStatus> {
        if !matches!(aside, Aside::Total { .. }) {
            self.totals.line(None, 1, None, None);
        }
        let text = self.push_text(row);
        let what = self.list.put_aside(aside);
        self.list.lines.push(Line {
            sheet: self.sheet,
            ..Line::new(row.number, text, what, placement, None)
        });
        self.shown += row.bytes() as u64;
        Some(LineStatus::Aside)
    }

    /// A row of totals with a figure: where it is not the sum of its lines, that is kept.
    pub(super) fn push_total(
        &mut self,
        row: &Row,
        placement: u32,
        stated: u64,
    ) -> Option<LineStatus> {
        match self.totals.hold(stated) {
            Held::Differs(computed) => {
                self.push_aside(row, placement, Aside::Total { stated, computed })
            }
            Held::Sum | Held::Unknown => None,
        }
    }

    /// Holds a figure that no item stands beside against the lines: their total, or a line without its item.
    pub(super) fn push_figure(
        &mut self,
        row: &Row,
        placement: u32,
        stated: u64,
    ) -> Option<LineStatus> {
        /// So many lines come to one figure by no chance (common practice, no source).
        const ENOUGH: u64 = 3;
        let lines = self.totals.lines_to(stated);
        let why = match self.totals.hold(stated) {
            _ if stated == 0 => return None,
            Held::Sum if lines >= ENOUGH => {
                self.note(format!("row {}: {stated} stands by itself, and is what the {lines} lines above come to: taken for their total", row.number));
                return None;
            }
            Held::Sum => format!(
                "{stated} stands here and no item: the total of what stands above, or pieces of their own? A total is written with its word"
            ),
            Held::Differs(computed) => format!(
                "{stated} stands here and no item; the lines above come to {computed}, so that it is no total of theirs: what is it of?"
            ),
            Held::Unknown => format!(
                "{stated} stands here and no item, and no lines above whose total it may be: what is it of?"
            ),
        };
        self.push_aside(row, placement, Aside::NoItem(why.into()))
    }

    /// Puts a row aside for its figure alone, and keeps what it names.
    pub(super) fn push_aside_named(
        &mut self,
        row: &Row,
        placement: u32,
        aside: Aside,
        entry: usize,
    ) -> Option<LineStatus> {
        if let Entry::Items(start, end) = self.said[entry] {
            let aside = self.list.asides.len() as u32;
            let found = self.found[start as usize..end as usize].iter();
            let named = found.map(|found| (aside, found.reading));
            self.list.named_aside.extend(named);
        }
        self.push_aside(row, placement, aside)
    }

    /// Keeps the row as written, where the file does not hold it as such.
    pub(super) fn push_text(&mut self, row: &Row) -> TextAt {
        match row.at {
            Some(start) => TextAt::in_file(start),
            None => {
                let written = self.written.as_ref().filter(|of| of.number == row.number);
                let cells = written.unwrap_or(row).cells();
                self.list.text.push_cells(cells.map(|(cell, _)| cell))
            }
        }
    }

    /// Counts a row by the worst state of its lines; a row without lines is no line.
    pub(super) fn add(&mut self, worst: Option<LineStatus>) {
        match worst {
            Some(LineStatus::Read) => self.tally.read += 1,
            Some(LineStatus::Check) => self.tally.check += 1,
            Some(LineStatus::Aside) => self.tally.aside += 1,
            None => self.tally.other += 1,
        }
    }
}

/// True for a name with a figure behind a sign that parts it from a count: `ridge beam - 12`, not `beam A-12`.
fn ends_in_count(name: &str) -> bool {
    let words = name.trim_end_matches(|c: char| c.is_ascii_digit());
    let before = words.trim_end();
    let dashed = before.ends_with(" -") || before.ends_with(" \u{2013}");
    words.len() < name.len() && (dashed || before.ends_with([':', ';', '=', '|']))
}

/// The pieces of a line at all its places.
pub(super) fn at_all_places(line: &Line) -> Option<u64> {
    Some(line.quantity?.saturating_mul(line.places.into()))
}

/// So many may be pieces, though a pack that holds more is named (common practice, no source).
const FEW: u64 = 4;

/// A smaller pack may hold a number of pieces that are packs by chance (common practice, no source).
const MANY: u64 = 10;

/// The doubt of a figure beside a pack. `taken`: for what.
fn pieces_or_packs(figure: u64, each: u64, taken: &str) -> Doubt {
    let said = format!("{figure} may be pieces or packs of {each}: taken as {taken}");
    let other = match taken {
        "packs" => figure,
        _ => figure.saturating_mul(each),
    };
    Doubt::OrElse {
        pieces: other,
        said: said.into(),
    }
}

/// The count of a row and the count in its text, taken together for a row of one item. `is_pack`: its name begins with
/// a pack, of which the row counts so many, whatever they are issued in.
fn together(
    count: &Count,
    text: Option<Quantity>,
    is_pack: bool,
    doubts: &mut Vec<Doubt>,
) -> (Option<u64>, Option<u64>) {
    let Some(text) = text else {
        if count.in_packs {
            doubts.push(Doubt::Said(
                "packs of a size that is not stated: not summed".into(),
            ));
        }
        return (count.pieces, count.packs);
    };
    // So many packs, of the size that the text says.
    if count.in_packs {
        return (count.pieces, count.packs);
    }
    match count.pieces {
        None if count.stated => (None, count.packs),
        None => (Some(text.pieces), text.packs),
        Some(pieces) if text.pieces == 1 => (Some(pieces), count.packs),
        Some(pieces) => match text.packs {
            // `100/box` beside 200 pieces, or boxes: a number of boxes is a multiple of what one holds by chance.
            Some(1) if !is_pack && (count.single != Single::Unsaid || pieces == text.pieces) => {
                let chance = !pieces.is_multiple_of(text.pieces) || text.pieces < MANY;
                if count.single != Single::Pieces && chance {
                    doubts.push(pieces_or_packs(pieces, text.pieces, "pieces"));
                }
                (Some(pieces), Some(pieces / text.pieces))
            }
            Some(1) => {
                let all = pieces.checked_mul(text.pieces);
                // Small hardware is seldom wanted by twos and threes.
                if count.single != Single::Unsaid || pieces >= text.pieces.min(FEW) {
                    doubts.push(pieces_or_packs(pieces, text.pieces, "packs"));
                }
                (all, Some(pieces))
            }
            _ if pieces == text.pieces => (Some(pieces), count.packs),
            Some(packs) if packs == pieces => (Some(text.pieces), Some(packs)),
            _ => {
                doubts.push(Doubt::TwoQuantities(pieces, text.pieces));
                (None, None)
            }
        },
    }
}
