//! How many: the figures of a row, worked out to pieces per place.

mod figure;
mod mark;
mod unit;

use super::{labelled::Labelled, line::Aside, remark, role::Role};
use crate::{
    Doubt,
    columns::{Beside, Layout, Meaning, Says, heading::Basis},
    notation::{Amount, Issue, Notation, Quantity},
    source::{CellKind, Row},
};
use figure::{plain_amount, times, worked_out};
pub use mark::{is_like_mark, is_mark, received};
pub use unit::{Single, is_unit, may_be_metres};
use unit::{issue, pack_of};

/// More pieces than this are a slip of the pen.
const MOST: u64 = 1_000_000_000;

/// So many pieces of one item are in no kit (common practice, no source).
const MANY: u64 = 100_000;

/// What the figures of a row come to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Count {
    /// Pieces per place, or good pieces on a count sheet; `None` where none are stated, or where
    /// what is stated cannot be summed.
    pub pieces: Option<u64>,
    pub places: u32,
    pub packs: Option<u64>,
    /// Pieces in one pack, by a column.
    pub pack_size: Option<u32>,
    /// `packs` holds packs whose size the row does not give in a column: where `pieces` are known, its text does.
    pub in_packs: bool,
    /// What the unit says of single pieces.
    pub single: Single,
    pub damaged: u64,
    pub back_ordered: u64,
    /// Named for reference only.
    pub reference: bool,
    /// A figure or a word stands in the quantity's place.
    pub stated: bool,
    pub doubts: Vec<Doubt>,
    pub aside: Option<Aside>,
}

impl Default for Count {
    fn default() -> Count {
        Count {
            pieces: None,
            places: 1,
            packs: None,
            pack_size: None,
            in_packs: false,
            single: Single::Unsaid,
            damaged: 0,
            back_ordered: 0,
            reference: false,
            stated: false,
            doubts: Vec::new(),
            aside: None,
        }
    }
}

impl Count {
    /// True where it is a figure and nothing more.
    pub fn is_plain(&self) -> bool {
        let Count {
            pieces,
            places: _,
            packs,
            pack_size,
            in_packs,
            single: _,
            damaged,
            back_ordered,
            reference,
            stated: _,
            doubts,
            aside,
        } = self;
        pieces.is_some()
            && packs.is_none()
            && pack_size.is_none()
            && !in_packs
            && *damaged == 0
            && *back_ordered == 0
            && !reference
            && doubts.is_empty()
            && aside.is_none()
    }

    /// Takes the figures that a line of a slip or a count labels.
    pub fn take(&mut self, said: &Labelled, role: Role) {
        self.stated = true;
        self.pieces = said.figure(column_of(role));
        self.damaged = said.figure(Meaning::Damaged).unwrap_or(0);
        self.back_ordered = said.figure(Meaning::BackOrdered).unwrap_or(0);
        if self.pieces.is_none() {
            let missing = match role {
                Role::Shipped => "how many were sent",
                _ => "how many are good",
            };
            self.aside = Some(Aside::InWords(
                format!("by its words it does not say {missing}").into(),
            ));
        }
    }
}

/// What one cell of figures says.
enum Figure {
    Blank,
    Pieces(Quantity),
    AsRequired,
    Reference,
    Credit,
    NoValue,
    Bad(Aside),
}

/// True for a cell that says how many and no more: `24`, `x 24`, `24 pcs`, `2 bags of 25`.
pub fn is_count(text: &str, notation: Notation) -> bool {
    matches!(plain_amount(text, notation), Amount::Pieces(_))
}

/// True for a cell that says how many, or of what to work it out: `12+11`, `3 x 25`.
pub fn may_count(text: &str, notation: Notation) -> bool {
    is_count(text, notation) || worked_out(text.trim()).is_some()
}

/// The pieces of a cell that says how many and no more, packs aside.
pub fn pieces(text: &str, notation: Notation) -> Option<u64> {
    match plain_amount(text, notation) {
        Amount::Pieces(Quantity {
            pieces,
            packs: None,
        }) => Some(pieces),
        _ => None,
    }
}

/// True where a row holds a figure in a column that counts, or that counts are worked out of.
pub fn has_figures(row: &Row, layout: &Layout, role: Role, notation: Notation) -> bool {
    let of_counts = columns(role).iter().chain(BESIDE);
    let of_counts = of_counts.filter(|&&meaning| meaning != Meaning::Unit);
    let mut cells = of_counts.map(|&meaning| layout.cell(row, meaning));
    cells.any(|cell| pieces(cell, notation).is_some_and(|pieces| pieces > 0))
}

/// The columns that may say how many, for what a list is, the likeliest first.
fn columns(role: Role) -> &'static [Meaning] {
    match role {
        Role::Required | Role::Compared => &[Meaning::Quantity, Meaning::Ordered, Meaning::Good],
        Role::Shipped => &[Meaning::Shipped, Meaning::Quantity, Meaning::Good],
        Role::Counted => &[Meaning::Good, Meaning::Received, Meaning::Quantity],
        Role::Stock | Role::LeftOver => &[Meaning::Good, Meaning::Quantity],
    }
}

/// Those that may say, beside a quantity, whether it is there.
fn whether(role: Role) -> impl Iterator<Item = Meaning> {
    let came = (role == Role::Shipped).then_some(Meaning::Received);
    let columns = columns(role).iter().copied().chain(came);
    columns.filter(|&meaning| meaning != Meaning::Quantity)
}

/// What else a count is worked out of.
const BESIDE: &[Meaning] = &[
    Meaning::Unit,
    Meaning::Damaged,
    Meaning::Ordered,
    Meaning::Shipped,
    Meaning::BackOrdered,
    Meaning::PackSize,
    Meaning::Packs,
    Meaning::Loose,
    Meaning::Places,
    Meaning::Total,
];

/// The column that says how many on a list, as a job file calls it.
pub fn column_of(role: Role) -> Meaning {
    columns(role)[0]
}

/// True where a table has a column that says how many.
pub fn is_stated(layout: &Layout, role: Role) -> bool {
    let more = [
        Meaning::Total,
        Meaning::Packs,
        Meaning::Loose,
        Meaning::Received,
    ];
    let mut all = columns(role).iter().chain(&more);
    !layout.spread.is_empty() || all.any(|&meaning| layout.has(meaning))
}

/// The columns of a table that a count is worked out of.
pub fn columns_of(layout: &Layout, role: Role) -> Vec<usize> {
    let beside = layout.beside.iter().map(|of| of.column);
    let seconds = [layout.second_quantity, layout.second_shipped];
    let others = seconds.into_iter().flatten().chain(beside);
    let figures = columns(role).iter().chain(BESIDE);
    figures
        .filter_map(|&meaning| layout.column(meaning))
        .chain(others.map(usize::from))
        .collect()
}

/// Works out the figures of a row.
pub fn count(row: &Row, layout: &Layout, role: Role, notation: Notation) -> Count {
    Counting {
        row,
        layout,
        role,
        notation,
        size_in_text: None,
        count: Count::default(),
    }
    .run()
}

/// Works out the figures of a row whose packs are of a size that its text states.
pub fn count_in_packs_of(
    size: u64,
    row: &Row,
    layout: &Layout,
    role: Role,
    notation: Notation,
) -> Count {
    let counting = Counting {
        row,
        layout,
        role,
        notation,
        size_in_text: Some(size),
        count: Count::default(),
    };
    Count {
        in_packs: true,
        ..counting.run()
    }
}

struct Counting<'a> {
    row: &'a Row,
    layout: &'a Layout,
    role: Role,
    notation: Notation,
    /// Pieces in a pack, as the row's text says.
    size_in_text: Option<u64>,
    count: Count,
}

impl Counting<'_> {
    fn run(mut self) -> Count {
        let main = self.main();
        self.side_figures();
        self.figure_of(main);
        self.denied(main);
        self.damaged_among(main);
        if let Some(second) = self.layout.second_quantity {
            self.second(usize::from(second));
        }
        if let Some(second) = self
            .layout
            .second_shipped
            .filter(|_| main == Meaning::Shipped)
        {
            self.second(usize::from(second));
        }
        self.packs(main);
        self.loose();
        self.beside();
        self.places_and_total(main);
        if self.count.pieces.is_some_and(|pieces| pieces > MOST) {
            self.count.aside = Some(Aside::BadQuantity(self.layout.cell(self.row, main).into()));
        }
        if self.count.aside.is_some() {
            self.count.pieces = None;
        }
        self.count
    }

    /// The column that says how many, for what the list is. Beside a quantity, one that says yes or no does not, nor does
    /// `Received` where it says nothing.
    fn main(&self) -> Meaning {
        let says_whether = |meaning| {
            meaning != Meaning::Quantity
                && (is_mark(self.layout.cell(self.row, meaning).trim())
                    || meaning == Meaning::Received
                        && matches!(self.figure(meaning), Figure::Blank))
                && self.layout.has(Meaning::Quantity)
                && !matches!(self.figure(Meaning::Quantity), Figure::Blank)
        };
        (columns(self.role).iter().copied())
            .find(|&meaning| self.layout.has(meaning) && !says_whether(meaning))
            .unwrap_or(Meaning::Quantity)
    }

    fn figure_of(&mut self, main: Meaning) {
        match self.figure(main) {
            Figure::Blank => self.not_received(),
            Figure::Pieces(_) if main == Meaning::Quantity && self.asks_instead() => {
                self.count.stated = true;
                self.count.doubts.push(Doubt::HowMany(
                    "the heading says what is needed, not what is there: not counted".into(),
                ));
            }
            Figure::Pieces(quantity) => {
                let written = self.layout.cell(self.row, main).trim();
                // Ledgers write a credit in brackets, lists a plain count.
                if !self.layout.headless && written.starts_with('(') && written.ends_with(')') {
                    let doubt = format!("{written} may be a credit: taken as {}", quantity.pieces);
                    self.count.doubts.push(Doubt::HowMany(doubt.into()));
                }
                // Two figures, of which the one in brackets may be as many more.
                if written.contains(['(', '[']) && figures_of(written) > 1 {
                    let doubt = format!("{written} taken for {}", quantity.pieces);
                    self.count.doubts.push(Doubt::HowMany(doubt.into()));
                }
                // Figures in a row, as many as a blank parts thousands.
                if quantity.pieces >= MANY && written.contains([' ', '\u{a0}', '\u{202f}']) {
                    let doubt = format!("{written} taken for {}", quantity.pieces);
                    self.count.doubts.push(Doubt::HowMany(doubt.into()));
                }
                // A comma with three zeros parts decimals, or thousands.
                if self.notation.decimal_comma && written.ends_with(",000") {
                    let doubt =
                        format!("{written} taken for {}: may be thousands", quantity.pieces);
                    self.count.doubts.push(Doubt::HowMany(doubt.into()));
                }
                let unit = written.trim_start_matches(|c: char| !c.is_alphabetic());
                if matches!(unit, "C" | "c" | "M") {
                    let doubt = format!(
                        "{written} read as {}: C and M are the trade's hundred and thousand",
                        quantity.pieces
                    );
                    self.count.doubts.push(Doubt::HowMany(doubt.into()));
                }
                self.count.stated = true;
                self.count.pieces = Some(quantity.pieces);
                self.count.packs = quantity.packs;
                let unit = self.layout.cell(self.row, Meaning::Unit);
                self.issue(main, quantity.pieces, unit);
            }
            Figure::AsRequired => {
                self.count.stated = true;
                self.count.doubts.push(Doubt::AsRequired);
            }
            Figure::Reference => {
                self.count.stated = true;
                self.count.reference = true;
            }
            Figure::NoValue => {
                self.count.stated = true;
                self.count.doubts.push(Doubt::NoValue);
            }
            Figure::Credit => {
                self.count.stated = true;
                let written = self.layout.cell(self.row, main).into();
                if self.role == Role::Shipped {
                    self.count.doubts.push(Doubt::Credit(written));
                } else {
                    self.count.aside = Some(Aside::BadQuantity(written));
                }
            }
            Figure::Bad(aside) => self.bad(main, aside),
        }
    }

    /// On a count, `no` under `Received` beside an item without a figure: none of it is there. On a slip, all that was
    /// ordered under what is back-ordered: none of it was sent.
    fn not_received(&mut self) {
        let of = |meaning| match self.figure(meaning) {
            Figure::Pieces(quantity) => Some(quantity.pieces),
            _ => None,
        };
        if self.role == Role::Shipped
            && of(Meaning::BackOrdered)
                .is_some_and(|owed| owed > 0 && of(Meaning::Ordered) == Some(owed))
        {
            self.count.stated = true;
            self.count.pieces = Some(0);
        }
        let written = self.layout.cell(self.row, Meaning::Received);
        if self.role == Role::Counted && received(written) == Some(false) {
            self.count.stated = true;
            self.count.pieces = Some(0);
            self.count.doubts.push(Doubt::Said(
                format!("\"{written}\" under what was received: taken for none").into(),
            ));
        }
    }

    /// `no` under what came or was packed, beside a quantity: none of it did.
    fn denied(&mut self, main: Meaning) {
        let (Meaning::Quantity, Some(pieces @ 1..)) = (main, self.count.pieces) else {
            return;
        };
        let mut cells =
            whether(self.role).map(|meaning| self.layout.cell(self.row, meaning).trim());
        let Some(no) = cells.find(|cell| is_mark(cell) && received(cell) == Some(false)) else {
            return;
        };
        let said =
            format!("\"{no}\" says that it is not there, beside {pieces}: taken for none").into();
        self.count.pieces = Some(0);
        self.count.doubts.push(Doubt::OrElse { pieces, said });
    }

    /// On a count, a quantity that the heading says is needed.
    fn asks_instead(&self) -> bool {
        self.layout.asks && matches!(self.role, Role::Counted | Role::Stock | Role::LeftOver)
    }

    /// A figure that is no whole number may still be one of hundreds or dozens (`1.5 C`), of packs (`2 boxes`), or one that
    /// is still to be worked out (`12+11`).
    fn bad(&mut self, main: Meaning, aside: Aside) {
        self.count.stated = true;
        let written = self.layout.cell(self.row, main).trim();
        let unit = self.layout.cell(self.row, Meaning::Unit);
        if unit.is_empty() {
            if let Some(pieces) = self.all_well(written) {
                self.count.pieces = Some(pieces);
                return;
            }
            if let Some((figure, unit)) = of_unit(written) {
                self.count.pieces = Some(figure);
                return self.issued(main, figure, unit);
            }
            // On a bench two heaps are added; a slip may count two items of one row.
            let may_add = self.role == Role::Counted || !written.contains('+');
            if let Some(all) = worked_out(written).filter(|_| may_add) {
                let doubt = format!("{written} taken for {all} in all");
                self.count.pieces = Some(all);
                return self.count.doubts.push(Doubt::HowMany(doubt.into()));
            }
        }
        match issue(unit) {
            Some(Issue::Pieces(each)) if each > 1 => {
                match times(written, each, self.notation.decimal_comma) {
                    Some(pieces) => self.count.pieces = Some(pieces),
                    None => self.count.aside = Some(aside),
                }
            }
            _ => self.count.aside = Some(aside),
        }
    }

    /// A figure of what is there, and behind it that all is well: `8 ok`, `8 (all there)`.
    fn all_well(&self, written: &str) -> Option<u64> {
        let said = written.trim_start_matches(|c: char| c.is_ascii_digit());
        let asks = matches!(self.role, Role::Required | Role::Compared);
        let is_well = said.starts_with([' ', '(']) && !asks && !remark::may_change(said, self.role);
        written[..written.len() - said.len()]
            .parse()
            .ok()
            .filter(|_| is_well)
    }

    /// Multiplies by the unit of issue in a column of its own. What was counted is pieces, whatever they are issued in, but
    /// for what is no count of pieces: `kg`, `half`.
    fn issue(&mut self, main: Meaning, figure: u64, unit: &str) {
        let known = || issue(unit).is_some() || pack_of(unit).is_some();
        if !unit.is_empty() && (main != Meaning::Good || !known()) {
            self.issued(main, figure, unit);
        }
    }

    /// Multiplies by a unit of issue.
    fn issued(&mut self, main: Meaning, figure: u64, unit: &str) {
        match issue(unit) {
            Some(Issue::Pieces(each @ (100 | 1000))) if self.layout.unit_of_price => {
                self.count.doubts.push(Doubt::HowMany(
                    format!(
                        "\"{unit}\" stands beside a price: taken for {each} in the price, not in the count"
                    )
                    .into(),
                ));
            }
            Some(Issue::Pieces(each)) if unit == "M" && self.layout.m_may_be_metres => {
                let doubt = format!(
                    "{figure} {unit} may be {figure} metres, or {figure} times {each} pieces: not summed"
                );
                self.count.doubts.push(Doubt::HowMany(doubt.into()));
                self.count.pieces = None;
            }
            Some(Issue::Pieces(each)) => {
                // A capital M may be the metre, a mil a thousandth.
                if unit == "M" || unit.eq_ignore_ascii_case("mil") {
                    let doubt = format!("the unit \"{unit}\" read as {each} pieces");
                    self.count.doubts.push(Doubt::HowMany(doubt.into()));
                }
                self.count.single = Single::of(each, unit);
                self.count.pieces = figure.checked_mul(each);
                if self.count.pieces.is_none() {
                    let written = self.layout.cell(self.row, main).into();
                    self.count.aside = Some(Aside::BadQuantity(written));
                }
            }
            Some(Issue::Pack) => {
                self.count.packs = Some(figure);
                self.count.in_packs = true;
            }
            None if pack_of(unit).is_some() => self.of_packs(figure, unit),
            // A figure in it may multiply the count.
            None if unit.contains(|c: char| c.is_ascii_digit()) => {
                self.count.pieces = None;
                self.count.doubts.push(Doubt::HowMany(
                    format!("{figure} of the unit \"{unit}\", which is not known: not summed")
                        .into(),
                ));
            }
            None => self.count.doubts.push(Doubt::HowMany(
                format!("the unit of measure \"{unit}\" is no count of pieces").into(),
            )),
        }
    }

    /// So many packs, by a unit that says how many are in one. A figure of at least that may be pieces.
    fn of_packs(&mut self, figure: u64, unit: &str) {
        self.count.packs = Some(figure);
        if self.layout.has(Meaning::PackSize) {
            self.count.in_packs = true;
            return;
        }
        let size = pack_of(unit).unwrap_or(1);
        self.count.pieces = figure.checked_mul(size);
        if figure >= size {
            let all = figure.saturating_mul(size);
            self.count.doubts.push(Doubt::OrElse {
                pieces: figure,
                said: format!("{figure} may be packs of {size} or pieces: {all} or {figure}")
                    .into(),
            });
        }
    }

    /// A second column of quantities, or of what was shipped, of which nothing says which counts.
    fn second(&mut self, column: usize) {
        let text = self.row.get(column);
        if let (Some(first), Amount::Pieces(second)) =
            (self.count.pieces, plain_amount(text, self.notation))
            && first != second.pieces
        {
            self.count.pieces = None;
            self.count
                .doubts
                .push(Doubt::TwoQuantities(first, second.pieces));
        }
    }

    fn side_figures(&mut self) {
        if self.role == Role::Counted
            && let Some(damaged) = self.whole(Meaning::Damaged)
        {
            self.count.damaged = damaged;
        }
        if self.role == Role::Shipped {
            self.owed();
        }
        if matches!(self.role, Role::Required | Role::Compared) {
            self.sent();
        }
    }

    /// What was ordered is what is required, though the row says that fewer or more came.
    fn sent(&mut self) {
        let Figure::Pieces(ordered) = self.figure(Meaning::Ordered) else {
            return;
        };
        let ordered = ordered.pieces;
        for (meaning, came) in [
            (Meaning::Shipped, "shipped or confirmed"),
            (Meaning::Good, "counted"),
        ] {
            if let Figure::Pieces(other) = self.figure(meaning)
                && other.pieces != ordered
                && !self.layout.has(Meaning::Quantity)
            {
                let other = other.pieces;
                self.count.doubts.push(Doubt::HowMany(
                    format!("{ordered} ordered, and {other} {came}: taken as {ordered}").into(),
                ));
            }
        }
    }

    /// What is back-ordered. Below zero, more was sent than was ordered.
    fn owed(&mut self) {
        if !matches!(self.figure(Meaning::BackOrdered), Figure::Credit) {
            self.count.back_ordered = self.whole(Meaning::BackOrdered).unwrap_or(0);
            return;
        }
        let written = self.layout.cell(self.row, Meaning::BackOrdered);
        let more = written.trim_matches(|c: char| !c.is_ascii_digit()).parse();
        let [ordered, sent] =
            [Meaning::Ordered, Meaning::Shipped].map(|meaning| match self.figure(meaning) {
                Figure::Pieces(quantity) => Some(quantity.pieces),
                _ => None,
            });
        let comes_to = ordered
            .zip(sent)
            .is_some_and(|(ordered, sent)| more.ok().map(|more: u64| ordered + more) == Some(sent));
        if !comes_to {
            self.count.doubts.push(Doubt::HowMany(
                format!("\"{written}\" back-ordered is no count of pieces: taken for none").into(),
            ));
        }
    }

    /// Where the heading does not say that what was counted is good, the damaged may be among it.
    fn damaged_among(&mut self, main: Meaning) {
        let damaged = self.count.damaged;
        if let Some(pieces) = self.count.pieces
            && damaged > 0
            && damaged <= pieces
            && !(main == Meaning::Good && self.layout.sound)
        {
            self.count.doubts.push(Doubt::OrElse {
                pieces: pieces - damaged,
                said: format!(
                    "the {damaged} damaged may be among the {pieces}: taken as {pieces} good"
                )
                .into(),
            });
        }
    }

    /// A whole number under a meaning; any other figure there puts the row aside.
    fn whole(&mut self, meaning: Meaning) -> Option<u64> {
        match self.figure(meaning) {
            Figure::Pieces(quantity) => Some(quantity.pieces),
            Figure::Blank | Figure::AsRequired | Figure::Reference => None,
            Figure::NoValue => {
                self.count.doubts.push(Doubt::NoValue);
                None
            }
            Figure::Credit => {
                let written = self.layout.cell(self.row, meaning).into();
                self.count.aside = Some(Aside::BadQuantity(written));
                None
            }
            Figure::Bad(aside) => {
                self.count.aside = Some(aside);
                None
            }
        }
    }

    /// Packs times pack size, beside or instead of a count of pieces.
    fn packs(&mut self, main: Meaning) {
        let size = self.whole(Meaning::PackSize).filter(|&size| size > 0);
        self.count.pack_size = size.and_then(|size| u32::try_from(size).ok());
        let size = size.or(self.layout.pack_of).or(self.size_in_text);
        let packs = self.whole(Meaning::Packs);
        if packs.is_some() {
            self.count.stated = true;
        }
        let product = |packs: u64, size: u64| packs.checked_mul(size);
        match (self.count.pieces, packs, size) {
            (_, None, None) => {
                // So many packs, and no column says of what size.
                if self.count.in_packs {
                    self.count.pieces = None;
                }
            }
            (None, Some(packs), Some(size)) => {
                self.count.packs = Some(packs);
                self.count.pieces = product(packs, size);
            }
            (None, Some(packs), None) => {
                self.count.packs = Some(packs);
                self.count.in_packs = true;
            }
            (Some(pieces), Some(packs), Some(size)) => {
                self.count.packs = Some(packs);
                let all = product(packs, size);
                if pieces == packs {
                    self.count.pieces = all;
                } else if all != Some(pieces) {
                    self.count.pieces = None;
                    self.count
                        .doubts
                        .push(Doubt::TwoQuantities(pieces, all.unwrap_or(u64::MAX)));
                }
                self.count.in_packs = false;
            }
            (Some(pieces), Some(packs), None) => {
                self.count.packs = Some(packs);
                if packs > 1 {
                    self.count.doubts.push(Doubt::OrElse {
                        pieces: pieces.saturating_mul(packs),
                        said: format!(
                            "{pieces} may be in each of {packs} packs or in all: taken as in all"
                        )
                        .into(),
                    });
                }
            }
            (Some(pieces), None, Some(size)) => self.pieces_or_packs(main, pieces, size),
            (None, None, Some(_)) => {}
        }
        if self.count.packs.is_some() && self.count.pieces.is_some() {
            self.count.in_packs = false;
        }
    }

    /// A quantity beside a pack size: the unit says whether it counts packs; without one it does,
    /// and where it may be pieces too, that is a doubt.
    fn pieces_or_packs(&mut self, main: Meaning, pieces: u64, size: u64) {
        let unit = self.layout.cell(self.row, Meaning::Unit);
        let counts_pieces = match issue(unit) {
            Some(Issue::Pieces(_)) => true,
            Some(Issue::Pack) => false,
            // `2 boxes`
            None if self.count.in_packs => false,
            None => {
                main == Meaning::Good
                    || matches!(self.role, Role::Stock | Role::LeftOver)
                    || self.layout.basis != Basis::Neutral
                    || size == 1
            }
        };
        if counts_pieces {
            if pieces.is_multiple_of(size) {
                self.count.packs = Some(pieces / size);
            }
            return;
        }
        self.count.packs = Some(pieces);
        self.count.pieces = pieces.checked_mul(size);
        if pieces >= size && unit.is_empty() && !self.count.in_packs {
            let all = pieces.saturating_mul(size);
            self.count.doubts.push(Doubt::OrElse {
                pieces,
                said: format!("{pieces} may be packs of {size} or pieces: {all} or {pieces}")
                    .into(),
            });
        }
    }

    /// Pieces beside full packs.
    fn loose(&mut self) {
        let Some(loose) = self.whole(Meaning::Loose) else {
            return;
        };
        self.count.stated = true;
        match (self.count.pieces, self.count.packs) {
            (None, None) => {
                self.count.pieces = Some(loose);
                self.count.single = Single::Pieces;
            }
            (Some(packed), Some(_)) => self.count.pieces = packed.checked_add(loose),
            (Some(pieces), None) if loose > 0 => self.count.doubts.push(Doubt::HowMany(
                format!("{loose} loose stand beside {pieces}: not counted").into(),
            )),
            _ => {}
        }
    }

    /// Figures beside the quantity that may change it.
    fn beside(&mut self) {
        let Some(pieces) = self.count.pieces else {
            return;
        };
        // What a count says to be back came in or went out: nobody knows.
        if matches!(self.role, Role::Counted | Role::Stock | Role::LeftOver)
            && !self.layout.has(Meaning::Ordered)
            && let Figure::Pieces(Quantity {
                pieces: more @ 1.., ..
            }) = self.figure(Meaning::BackOrdered)
        {
            self.count.doubts.push(Doubt::HowMany(
                format!("{more} back or back-ordered beside {pieces}: not counted").into(),
            ));
        }
        // `To follow` beside what is headed as no more than a quantity: among it or apart, unless the order tells.
        if self.role == Role::Shipped
            && self.main() == Meaning::Quantity
            && let Figure::Pieces(Quantity {
                pieces: owed @ 1.., ..
            }) = self.figure(Meaning::BackOrdered)
            && owed <= pieces
            && !self.lacks(pieces, owed)
        {
            self.count.doubts.push(Doubt::OrElse {
                pieces: pieces - owed,
                said: format!(
                    "{owed} that follow may be among the {pieces} or apart: taken as apart"
                )
                .into(),
            });
        }
        if self.layout.count_is_guessed
            && let Figure::Pieces(ordered) = self.figure(Meaning::Ordered)
            && ordered.pieces != pieces
        {
            self.count.doubts.push(Doubt::OrElse {
                pieces: ordered.pieces,
                said: format!(
                    "{pieces} of {} ordered, and no heading is known to say how many were sent",
                    ordered.pieces
                )
                .into(),
            });
        }
        let divides = self.is_divided(pieces);
        let beside = self.layout.beside.iter();
        let beside = beside.filter(|of| !divides || of.says != Says::More);
        let doubts: Vec<Doubt> = beside.filter_map(|of| self.said(of, pieces)).collect();
        self.count.doubts.extend(doubts);
    }

    /// True where the figures of several columns beside the count come to it: they say where its pieces are.
    fn is_divided(&self, pieces: u64) -> bool {
        let more = self.layout.beside.iter().filter(|of| of.says == Says::More);
        let figures = more.map(|of| {
            match plain_amount(self.row.get(of.column.into()).trim(), self.notation) {
                Amount::Pieces(quantity) => Some(quantity.pieces),
                Amount::Blank => Some(0),
                _ => None,
            }
        });
        let figures: Option<Vec<u64>> = figures.collect();
        figures.is_some_and(|all| {
            all.len() > 1 && all.iter().copied().fold(0, u64::saturating_add) == pieces
        })
    }

    /// The doubt of a row where a column beside its count may change it.
    fn said(&self, of: &Beside, pieces: u64) -> Option<Doubt> {
        let (heading, text) = (&of.heading, self.row.get(usize::from(of.column)).trim());
        if let Says::Mark(usual) = &of.says {
            let of_column = |meaning| self.layout.column(meaning) == Some(of.column.into());
            if is_mark(text) && whether(self.role).any(of_column) {
                return None;
            }
            let written = |mark: &str| match mark {
                "" => "nothing".to_owned(),
                mark => format!("\"{mark}\""),
            };
            let (mark, usual_mark) = (written(text), written(usual));
            return (pieces > 0 && !is_like_mark(text, usual)).then(|| Doubt::OrElse {
                pieces: 0,
                said: format!(
                    "{mark} under \"{heading}\", where other rows have {usual_mark}: taken as {pieces}"
                )
                .into(),
            });
        }
        let amount = plain_amount(text, self.notation);
        let figure = match &amount {
            Amount::Pieces(quantity) => quantity.pieces,
            // `-2` of a difference.
            Amount::Credit(_) => {
                let told = format!("{text} under \"{heading}\" beside {pieces}: not counted");
                return Some(Doubt::HowMany(told.into()));
            }
            _ => return None,
        };
        let said = format!("{figure} under \"{heading}\" beside {pieces}: not counted").into();
        let meant = match of.says {
            Says::Again if figure != pieces => figure,
            Says::Missing if figure > 0 && !self.lacks(pieces, figure) => {
                pieces.saturating_sub(figure)
            }
            Says::Before if figure > 0 && self.role == Role::Shipped => {
                pieces.saturating_add(figure)
            }
            Says::More | Says::Whether if figure > 0 => return Some(Doubt::HowMany(said)),
            Says::Whether if pieces > 0 => 0,
            _ => return None,
        };
        Some(Doubt::OrElse {
            pieces: meant,
            said,
        })
    }

    /// True where what is missing is none of the row's pieces: it says what was shipped, or they come to what was
    /// ordered together.
    fn lacks(&self, pieces: u64, missing: u64) -> bool {
        let ordered = self.figure(Meaning::Ordered);
        let all = pieces.saturating_add(missing);
        self.main() == Meaning::Shipped
            || matches!(ordered, Figure::Pieces(ordered) if ordered.pieces == all)
    }

    /// A count is of what lies there in all: so many pieces each at several places, or a total that is another, is a
    /// question, unless the one is the other.
    fn total_of_count(&mut self) {
        let of = |meaning| match self.figure(meaning) {
            Figure::Pieces(quantity) => Some(quantity.pieces),
            _ => None,
        };
        let (Some(pieces), places) = (self.count.pieces, of(Meaning::Places)) else {
            return;
        };
        let all = places.map(|places| pieces.saturating_mul(places));
        let other = of(Meaning::Total).or(all);
        let Some(other) = other.filter(|other| *other != pieces) else {
            return;
        };
        let said = match places {
            Some(places) => format!("{pieces} each at {places} places, or in all: taken as in all"),
            None => format!("{other} in the row's total beside {pieces}: not counted"),
        };
        self.count.doubts.push(Doubt::OrElse {
            pieces: other,
            said: said.into(),
        });
    }

    /// The heading decides whether a quantity is each or in all; a total confirms.
    fn places_and_total(&mut self, main: Meaning) {
        if self.role == Role::Counted {
            return self.total_of_count();
        }
        let places = match self.figure(Meaning::Places) {
            Figure::Pieces(quantity) => quantity.pieces,
            Figure::Blank => 1,
            _ => {
                let written = self.layout.cell(self.row, Meaning::Places).into();
                self.count.doubts.push(Doubt::Multiplier(written));
                1
            }
        };
        let total = match self.figure(Meaning::Total) {
            _ if self.total_is_money() => None,
            Figure::Pieces(quantity) => Some(quantity.pieces),
            Figure::NoValue if !self.count.stated => {
                self.count.stated = true;
                self.count.doubts.push(Doubt::NoValue);
                None
            }
            Figure::Bad(aside) if !self.count.stated && main == Meaning::Quantity => {
                self.count.stated = true;
                self.count.aside = Some(aside);
                None
            }
            _ => None,
        };
        let Ok(places) = u32::try_from(places) else {
            let written = self.layout.cell(self.row, Meaning::Places).into();
            self.count.aside = Some(Aside::BadQuantity(written));
            return;
        };
        if let (0, Some(each @ 1..)) = (places, self.count.pieces) {
            self.count.doubts.push(Doubt::OrElse {
                pieces: each,
                said: format!("{each} at no place: taken for none").into(),
            });
        }
        match (self.count.pieces, total) {
            (None, Some(total)) if !self.count.stated => {
                self.count.stated = true;
                self.count.pieces = Some(total);
            }
            (Some(each), Some(total)) => {
                self.count.places = places;
                let all = each.saturating_mul(u64::from(places));
                if all == total {
                    return;
                }
                let each_of = self.layout.basis == Basis::Each && !self.layout.has(Meaning::Places);
                if each_of
                    && each > 0
                    && total % each == 0
                    && let Ok(places) = u32::try_from(total / each)
                {
                    // `Qty per assembly` beside a total says how many of these there are.
                    self.count.places = places;
                } else if total == each && self.layout.basis == Basis::Neutral {
                    // The quantity is the total.
                    self.count.places = 1;
                } else {
                    self.count.doubts.push(Doubt::TotalDisagrees {
                        total,
                        computed: all,
                    });
                }
            }
            (Some(each), None) => {
                self.count.places = places;
                if let Some(of) = &self.layout.each_of {
                    self.count.doubts.push(Doubt::HowMany(
                        format!("{each} per {of}, and how many there are of it is not stated: taken once").into(),
                    ));
                }
                if places > 1 && self.layout.basis != Basis::Each {
                    self.count.doubts.push(Doubt::PerPlaceOrTotal {
                        each,
                        places: u64::from(places),
                    });
                }
            }
            _ => self.count.places = places,
        }
    }

    /// True where what stands under `Total`, behind a price, is what the row costs: it is written as money, the price
    /// comes to it, or no pieces are stated that it could be the sum of.
    fn total_is_money(&self) -> bool {
        let Some(price) = self.layout.price_before_total else {
            return false;
        };
        let total = self.layout.cell(self.row, Meaning::Total);
        let comes_to = || {
            let ((price, places), (total, of)) =
                (decimal(self.row.get(price.into()))?, decimal(total)?);
            let cost = price.checked_mul(u128::from(self.count.pieces?))?;
            let cost = cost.checked_mul(10u128.checked_pow(of)?)?;
            Some(cost == total.checked_mul(10u128.checked_pow(places)?)?)
        };
        let in_cents = decimal(total).is_some_and(|(_, places)| places == 2);
        in_cents || self.count.pieces.is_none() || comes_to() == Some(true)
    }

    fn figure(&self, meaning: Meaning) -> Figure {
        let Some(column) = self.layout.column(meaning) else {
            return Figure::Blank;
        };
        let text = self.row.get(column);
        let figure = match self.row.kind(column) {
            CellKind::Blank => Figure::Blank,
            CellKind::NoValue => Figure::NoValue,
            CellKind::Error => Figure::Bad(Aside::CellError(text.into())),
            CellKind::Date => Figure::Bad(Aside::BadQuantity(text.into())),
            CellKind::Bool if meaning == Meaning::Received => Figure::Blank,
            CellKind::Bool => Figure::Bad(Aside::BadQuantity(text.into())),
            CellKind::Text | CellKind::Number => match plain_amount(text, self.notation) {
                Amount::Pieces(quantity) => Figure::Pieces(quantity),
                Amount::Blank => Figure::Blank,
                Amount::AsRequired => Figure::AsRequired,
                Amount::Reference => Figure::Reference,
                // A stroke behind a figure may be no minus: `24.-` for a whole number of anything.
                Amount::Credit(_)
                    if text.trim_start().starts_with(|c: char| c.is_ascii_digit()) =>
                {
                    Figure::Bad(Aside::BadQuantity(text.into()))
                }
                Amount::Credit(_) => Figure::Credit,
                // Yes or no is no count.
                Amount::Bad if meaning == Meaning::Received => Figure::Blank,
                Amount::Bad => Figure::Bad(Aside::BadQuantity(text.into())),
            },
        };
        match figure {
            Figure::Pieces(quantity) if quantity.pieces > MOST => {
                Figure::Bad(Aside::BadQuantity(text.into()))
            }
            figure => figure,
        }
    }
}

/// How many figures stand in a text, of one digit or more.
fn figures_of(text: &str) -> usize {
    let figures = text.split(|c: char| !c.is_ascii_digit());
    figures.filter(|figure| !figure.is_empty()).count()
}

/// A sum of money without its sign, and how many decimals it has: 1200 and 2 of `$12.00`.
fn decimal(text: &str) -> Option<(u128, u32)> {
    /// Figures of a sum, at most.
    const MOST: usize = 15;
    let sum = text.trim_matches(|c: char| !c.is_ascii_digit());
    let (whole, part) = sum.split_once(['.', ',']).unwrap_or((sum, ""));
    let figures = [whole, part].concat();
    let plain = !figures.is_empty() && figures.len() <= MOST;
    let value = figures.parse().ok().filter(|_| plain)?;
    Some((value, u32::try_from(part.len()).ok()?))
}

/// So many packs, or so many sets: `2 boxes`.
fn of_unit(written: &str) -> Option<(u64, &str)> {
    let (figure, unit) = written.split_once(' ')?;
    let is_pack = matches!(issue(unit), Some(Issue::Pack)) || matches!(unit, "set" | "sets");
    Some((figure.parse().ok()?, unit)).filter(|_| is_pack)
}
