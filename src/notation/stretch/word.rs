//! Words of the trade, and what each says of the item.

use super::Stretch;
use crate::{
    doubt::Doubt,
    hardware::{Drive, Grade, Point},
    notation::{
        callout::Role,
        number::{Prefix, Shape},
        token::{Tok, Token},
        words::{Mark, Noun, Row, Sense, Senses},
    },
};

/// Nouns of languages that describe a thing behind its name.
const DESCRIBED_BEHIND: &[&str] = &[
    "vis", "boulon", "écrou", "ecrou", "rondelle", "tornillo", "perno", "tuerca", "arandela",
    "rondella",
];

impl<'a> Stretch<'_, 'a> {
    /// True for the last word, behind a comma and a size: `half by six carriage, eighteen`.
    fn ends_list(&self, i: usize) -> bool {
        let comma = i > 0 && matches!(self.tok(i - 1), Some(Tok::Comma));
        comma && i + 1 >= self.end && !self.draft.dims.is_empty()
    }

    pub(super) fn word(&mut self, i: usize, row: &'static Row) -> usize {
        // A count in words names nothing.
        self.draft.known |= !row.kinds.within(Senses::COUNTING);
        if self.is_in_a_figure(i) {
            self.draft.traits.unknown = true;
            return i + 1;
        }
        // A dozen or a number in words is passed over by none but the count that it makes.
        if row.count().is_none() && self.per(i).is_none_or(|n| n == 1) {
            self.reader.mark(i..i + 1, row.role);
        }
        if let Some(noun) = self.reader.noun(i) {
            self.draft.traits.noun = Some(noun);
            self.draft.plural = is_plural(self.text(i));
            self.noun_at = Some(i);
            self.draft.thing = false;
            self.draft.tool = false;
        }
        let mut next = i + 1;
        for &sense in row.senses {
            match sense {
                Sense::Noun(noun) => self.side_noun(i, noun),
                // A set of pieces makes no set screw.
                Sense::Mark(Mark::Set) if self.is_pack(i) => {
                    if self.pack_size(i).0.is_none() {
                        let doubt = "how many are in a set is not stated";
                        self.draft.doubts.push(Doubt::HowMany(doubt.into()));
                    }
                }
                Sense::Mark(mark) => {
                    self.mark(i, mark);
                    if mark == Mark::Cap {
                        self.thing_at_the_end(i);
                    }
                }
                Sense::Grade(Grade::Nylon) if self.before_insert(i) => {
                    self.draft.traits.marks.add(Mark::NylonInsert);
                }
                Sense::Grade(grade) => {
                    self.grade(grade);
                    // `A325-1`: type 1
                    let tight = matches!(self.tok(i + 1), Some(Tok::Dash))
                        && !self.reader.spaced(i + 2)
                        && self.whole(i + 2).is_some_and(|n| n < 4);
                    if matches!(grade, Grade::A325 | Grade::A490) && tight {
                        self.reader.mark(i + 1..i + 3, Role::Grade);
                        next = next.max(i + 3);
                    }
                }
                Sense::GradeWord => {
                    next = next.max(self.grade_word(i, row));
                    // `2 gr #8 screws`: no grade stands behind, and it may be a gross.
                    if next == i + 1 && i > 0 && self.whole(i - 1).is_some() {
                        self.draft.traits.unknown = true;
                        self.reader.tokens[i].role = None;
                    }
                }
                Sense::Drive(drive) => self.draft.traits.drive = Some(drive),
                Sense::Point(Point::Dog)
                    if i > 0 && self.reader.says(i - 1, Sense::Mark(Mark::Jam)) =>
                {
                    self.draft.point = Some(Point::HalfDog);
                }
                Sense::Point(point) => self.draft.point = Some(point),
                Sense::Series(series) => self.draft.dims.series = Some(series),
                Sense::FullThread(full) => self.draft.full_thread = Some(full),
                Sense::Qty => next = next.max(self.qty(i)),
                Sense::Each => {
                    self.draft.each = true;
                    next = next.max(self.places(i));
                }
                Sense::Pack if self.thing_at_the_end(i) => {}
                Sense::Pack if !self.is_pack(i) => {}
                Sense::Pack => next = next.max(self.lone_pack(i)),
                Sense::SetWord if self.is_pack(i) => next = next.max(self.lone_pack(i)),
                // `4 bolt & nut sets`
                Sense::SetWord => self.draft.sets |= i > 0 && self.noun_at == Some(i - 1),
                Sense::About => {
                    let word = self.text(i);
                    self.draft.doubts.push(Doubt::HowMany(
                        format!("\"{word}\": the count is not exact").into(),
                    ));
                }
                Sense::Both => next = next.max(self.places(i)),
                Sense::Hardness => {}
                Sense::Measure(measure) => {
                    let at = self
                        .reader
                        .skip(i + 1, |tok| matches!(tok, Tok::Colon | Tok::Dot));
                    if self.number(at).is_some() {
                        self.pending = Some(measure);
                        next = next.max(at);
                    }
                }
                Sense::PartNumber => next = next.max(self.part_number(i)),
                Sense::NumberWord => next = next.max(self.number_word(i)),
                Sense::Standard => next = next.max(self.standard(i)),
                // `screw for wood 4x30`
                Sense::For
                    if self.says(i + 1, Sense::Mark(Mark::Wood))
                        && self.draft.traits.noun == Some(Noun::Screw) => {}
                Sense::For | Sense::PerPlace => {
                    // A note, up to the next comma.
                    next = (i + 1..self.end)
                        .find(|&j| {
                            matches!(
                                self.tok(j),
                                Some(Tok::Comma | Tok::Semicolon | Tok::Close | Tok::Colon)
                            )
                        })
                        .unwrap_or(self.end);
                    self.reader.mark(i..next, Role::Note);
                    // `screws for soft wood`
                    let of_wood = |at| self.says(at, Sense::Mark(Mark::Wood));
                    if self.draft.traits.noun == Some(Noun::Screw) && (i..next).any(of_wood) {
                        let tokens = &self.reader.tokens;
                        let words = tokens[i].start..tokens[next - 1].end;
                        let words = self.reader.text[words].into();
                        self.draft.doubts.push(Doubt::UnknownWords(words));
                    }
                    // `1/2 for x 6`
                    if matches!(self.tok(i + 1), Some(Tok::Join)) {
                        let size =
                            self.reader.tokens[i + 1].start..self.reader.tokens[next - 1].end;
                        self.draft
                            .doubts
                            .push(Doubt::LeftOver(self.reader.text[size].into()));
                    }
                    if sense == Sense::PerPlace {
                        let tokens = &self.reader.tokens;
                        let words = tokens[i].start..tokens[next - 1].end;
                        let words = self.reader.text[words].into();
                        self.draft.doubts.push(Doubt::Multiplier(words));
                    }
                }
                // A washer of another form than A is of another width (BS 4320).
                Sense::TypeWord
                    if row.spelling == "form"
                        && !(self.is_word(i + 1) && self.text(i + 1).eq_ignore_ascii_case("a")) =>
                {
                    self.draft.traits.unknown = true;
                    self.reader.tokens[i].role = None;
                }
                Sense::TypeWord => {
                    let letter = self.is_word(i + 1) && self.text(i + 1).len() == 1;
                    if letter || self.whole(i + 1).is_some_and(|n| n < 10) {
                        self.reader.mark(i..i + 2, Role::Passed);
                        next = i + 2;
                    }
                }
                Sense::Count(n)
                    if self.draft.quantity.is_none()
                        && (self.counts_behind(i) || self.ends_list(i)) =>
                {
                    let dozen = self.per(i + 1).filter(|&n| n > 1);
                    let end = i + 1 + usize::from(dozen.is_some());
                    self.count(n.checked_mul(dozen.unwrap_or(1)), None, i..end);
                    next = next.max(end);
                }
                // `washers, a dozen`
                Sense::Per(n)
                    if n > 1
                        && self.noun_at.is_some()
                        && i.checked_sub(1).is_some_and(|at| {
                            self.is_word(at) && self.text(at).eq_ignore_ascii_case("a")
                        }) =>
                {
                    self.count(Some(n), None, i - 1..i + 1);
                }
                Sense::Per(n) if n > 1 => self.lone_several(i, n),
                Sense::Thing => self.thing(i),
                Sense::Use => self.a_use(i),
                Sense::Tool => self.tool(i),
                Sense::Consumable => self.consumable(i),
                Sense::Corrects => {}
                Sense::Extra => {
                    let word = self.text(i);
                    self.draft.doubts.push(Doubt::HowMany(
                        format!("\"{word}\": may be beyond what is needed, or part of it").into(),
                    ));
                }
                Sense::PerBolt(times) => {
                    self.draft.per_bolt = Some(times);
                    self.draft.each |= row.spelling == "each side";
                }
                // No number was made of it.
                Sense::Fraction(_) if row.senses.len() == 1 => {
                    self.draft.traits.unknown = true;
                    self.reader.tokens[i].role = None;
                }
                Sense::Fraction(_) => {}
                // `bolts M 12 x 90`
                Sense::Metric(1000)
                    if self.text(i) == "M" && (i == 0 || self.number(i - 1).is_none()) =>
                {
                    self.metric_apart(i);
                }
                // `bolt assembly`: of what, is not said.
                Sense::Whole => {
                    let named = self.noun_at.is_some() && !self.reader.says(i + 1, Sense::With);
                    if named && self.reader.noun(i + 1).is_none() {
                        self.draft.traits.unknown = true;
                        self.reader.tokens[i].role = None;
                    }
                }
                Sense::Count(_)
                | Sense::Per(_)
                | Sense::Unit(_)
                | Sense::Metric(_)
                | Sense::Foot
                | Sense::By
                | Sense::With
                | Sense::And
                | Sense::Without
                | Sense::Of
                | Sense::Torque
                | Sense::Pound
                | Sense::Head
                | Sense::DriveWord
                | Sense::PointWord
                | Sense::Noise => {}
                Sense::Unspecified => self.draft.traits.unknown = true,
            }
        }
        next
    }

    /// A number behind the `M` of a metric size that stands apart; in front of a fraction of an inch it is not known.
    fn metric_apart(&mut self, i: usize) {
        let size = self.number(i + 1);
        if size.is_some_and(|(_, shape, _)| !matches!(shape, Shape::Whole | Shape::Decimal(_))) {
            self.draft.traits.unknown = true;
            self.reader.tokens[i].role = None;
        } else if let Some(Token {
            tok: Tok::Num { prefix, .. },
            ..
        }) = self.reader.tokens.get_mut(i + 1)
            && size.is_some()
        {
            *prefix = Prefix::Metric;
        }
    }

    /// True for a count in words behind what it counts: hardware, or at the end the name of a part.
    fn counts_behind(&self, i: usize) -> bool {
        let ends = i + 1 >= self.end;
        let part = match i.checked_sub(1).and_then(|at| self.reader.tok(at)) {
            Some(Tok::Comma) => ends && self.draft.thing,
            Some(Tok::Colon) => ends && self.draft.has_words(),
            Some(Tok::Dash) => ends && self.reader.spaced(i) && self.draft.has_words(),
            _ => false,
        };
        part || self.draft.traits.noun.is_some() || self.draft.is_hardware()
    }

    /// True for a letter in the place of a figure: `3/8-l6`, `l/2`, `M10 x l20`.
    pub(super) fn is_in_a_figure(&self, i: usize) -> bool {
        let tight = |at: usize| at < self.end && !self.reader.spaced(at);
        let behind_dash = i > 0
            && matches!(self.reader.tok(i - 1), Some(Tok::Dash))
            && tight(i)
            && self.number(i + 1).is_some()
            && tight(i + 1);
        let token = &self.reader.tokens[i];
        let behind_join = i > 0
            && matches!(self.reader.tok(i - 1), Some(Tok::Join))
            && self.number(i + 1).is_some()
            && tight(i + 1)
            && self.text(i) == "l";
        let before_slash = token.end - token.start == 1
            && matches!(self.tok(i + 1), Some(Tok::Slash))
            && tight(i + 1)
            && self.whole(i + 2).is_some()
            && tight(i + 2);
        behind_dash || before_slash || behind_join
    }

    /// A noun that is only a mark: `washer head`, `anchor bolt`.
    pub(super) fn side_noun(&mut self, i: usize, noun: Noun) {
        if self.reader.noun(i).is_some() {
            return;
        }
        match noun {
            Noun::Washer => self.draft.traits.marks.add(Mark::HexWasher),
            Noun::Screw => self.draft.traits.marks.add(Mark::ScrewIn),
            Noun::Anchor => self.draft.traits.marks.add(Mark::Anchor),
            Noun::Stud => self.draft.traits.marks.add(Mark::Stud),
            _ => {}
        }
    }

    pub(super) fn mark(&mut self, i: usize, mark: Mark) {
        // `plain washer` is a flat one; `flat washer, plain` has no finish.
        let flat = mark == Mark::Plain && self.reader.noun(i + 1) == Some(Noun::Washer);
        // `SAE Grade 5` names a standard.
        let standard = mark == Mark::Sae && self.says(i + 1, Sense::GradeWord);
        // `hex socket` is one word; `square drive` and `socket drive` are no heads.
        let of_socket = mark == Mark::Hex && self.says(i + 1, Sense::Mark(Mark::Socket));
        let drive = match mark {
            Mark::Square => Some(Drive::Square),
            Mark::External => Some(Drive::SixLobe),
            Mark::Socket | Mark::Hex => Some(Drive::HexSocket),
            _ => None,
        };
        let drive = drive.filter(|_| self.says(i + 1, Sense::DriveWord));
        let point = match mark {
            Mark::Flat => Some(Point::Flat),
            Mark::Oval => Some(Point::Oval),
            _ => None,
        };
        let point = point.filter(|_| self.says(i + 1, Sense::PointWord));
        // `half-inch` is no jam nut.
        if mark == Mark::Jam && matches!(self.tok(i + 1), Some(Tok::Dash)) {
            self.draft.traits.unknown = true;
            self.reader.tokens[i].role = None;
            return;
        }
        // A `rondelle plate` is a flat washer.
        let flat = flat
            || mark == Mark::Plate
                && self
                    .draft
                    .tokens
                    .clone()
                    .any(|at| self.describes_behind(at));
        // `40 long`, `thick: 3` say the measure of a figure.
        let measures = matches!(mark, Mark::Long | Mark::Thick)
            && self.row(i).is_some_and(|row| row.measure().is_some())
            && self.is_by_figure(i);
        let half_dog = mark == Mark::Jam && self.says(i + 1, Sense::Point(Point::Dog));
        if point.is_some() {
            self.draft.point = point;
        } else if drive.is_some() {
            self.draft.traits.drive = drive;
        } else if flat {
            self.draft.traits.marks.add(Mark::Flat);
        } else if !standard && !of_socket && !half_dog && !measures {
            self.draft.traits.marks.add(mark);
        }
    }

    /// True for a word with a figure before or behind it.
    fn is_by_figure(&self, i: usize) -> bool {
        let unit = |at: usize| {
            matches!(self.tok(at), Some(Tok::Inch))
                || self
                    .reader
                    .word(at)
                    .is_some_and(|row| row.kinds.meet(Senses::UNITS))
        };
        let behind = (self.reader).skip(i + 1, |tok| matches!(tok, Tok::Colon | Tok::Dot));
        let figure = |at: usize| matches!(self.number(at), Some((.., Prefix::None)));
        figure(behind) || i > 0 && (self.number(i - 1).is_some() || unit(i - 1))
    }

    pub(super) fn before_insert(&self, i: usize) -> bool {
        let at = self.reader.skip(i + 1, |tok| matches!(tok, Tok::Dash));
        self.says(at, Sense::Mark(Mark::Insert)) || self.says(at, Sense::Mark(Mark::Lock))
    }

    /// True for a noun that what describes it follows: `écrou frein`, `rondelle plate`.
    fn describes_behind(&self, i: usize) -> bool {
        (self.reader.word(i)).is_some_and(|row| DESCRIBED_BEHIND.contains(&row.spelling))
    }

    /// A word for a thing: before the noun it is a mark or not known, behind it the thing itself.
    pub(super) fn thing(&mut self, i: usize) {
        let behind = i > 0 && self.noun_at == Some(i - 1);
        // `8 rondelles M10 (plates)`: a note.
        let noted = i > 0 && matches!(self.reader.tok(i - 1), Some(Tok::Open));
        match self.draft.traits.noun {
            // A coupler: of rods where a thread says so.
            Some(_) if self.noun_at == Some(i) => {
                self.draft.thing = true;
                self.draft.odd_thing = true;
            }
            None => self.draft.thing |= !noted,
            Some(_) if behind && !self.describes_behind(i - 1) => {
                self.draft.thing = true;
                // `24 1/2 x 3 hex bolts kit`
                let dims = &self.draft.dims;
                self.draft.odd_thing = dims.len() > 1 || dims.thread.is_some();
            }
            Some(_) => {}
        }
    }

    /// A use: where no noun follows that it belongs to, it is as good as not known.
    fn a_use(&mut self, i: usize) {
        self.draft.traits.unknown = true;
        self.reader.tokens[i].role = None;
        self.thing_after_noun(i);
    }

    /// Takes the uses in front of the noun for a part of its name; a pack's word is none (`hex crate bolts`), but in
    /// `case hardened`.
    pub(super) fn take_uses(&mut self) {
        let Some(noun) = self.noun_at else { return };
        for at in self.reader.name_before(noun, self.draft.tokens.start) {
            let hardened =
                || self.is_word(at + 1) && self.text(at + 1).eq_ignore_ascii_case("hardened");
            let packs = self.reader.says(at, Sense::Pack) && !hardened();
            if self.reader.says(at, Sense::Use) && !packs {
                self.reader.mark(at..at + 1, Role::Name);
            }
        }
    }

    /// A word right behind the noun that names another thing: a bolt plate is a plate.
    pub(super) fn thing_after_noun(&mut self, i: usize) {
        let behind = i > 0 && self.noun_at == Some(i - 1);
        if behind && self.draft.dims.is_empty() && !self.describes_behind(i - 1) {
            self.draft.thing = true;
            self.draft.odd_thing = true;
        }
    }

    /// The same of a word that says something else where more stands behind it: `bolt cap`, `bolt box`; no `bolt, cap`,
    /// `bolts box 100`, `screw cap hex`.
    fn thing_at_the_end(&mut self, i: usize) -> bool {
        let more = |tok| {
            matches!(
                tok,
                Tok::Word(_) | Tok::Unknown | Tok::Num { .. } | Tok::Code
            )
        };
        let ends = !self.tok(i + 1).is_some_and(more);
        if ends {
            self.thing_after_noun(i);
        }
        ends && self.draft.odd_thing
    }

    /// A tool where no hardware is named: `torque wrench`, `3/4 socket`, `1/2 hex key`.
    pub(super) fn tool(&mut self, i: usize) {
        let ends = !matches!(
            self.tok(i + 1),
            Some(
                Tok::Word(_) | Tok::Unknown | Tok::Num { .. } | Tok::Code | Tok::Join | Tok::Slash
            )
        );
        let named = match self.reader.word(i).map(|row| row.spelling) {
            Some("socket") => ends && self.draft.traits.noun.is_none() && self.draft.dims.len() < 2,
            Some("key") => i > 0 && self.reader.says(i - 1, Sense::Mark(Mark::Hex)),
            _ => self.draft.thing,
        };
        if named {
            self.draft.thing = true;
            self.draft.tool = true;
        } else if !self.draft.thing && self.reader.word(i).is_some_and(|row| row.spelling == "key")
        {
            self.draft.traits.unknown = true;
        }
    }

    /// What is used up, where no hardware is named and it ends the name: `blue threadlocker`, no
    /// `tape measure`.
    fn consumable(&mut self, i: usize) {
        let ends = !matches!(
            self.tok(i + 1),
            Some(Tok::Word(_) | Tok::Unknown | Tok::Code)
        ) || self.says(i + 1, Sense::Consumable);
        let lock = (self.reader.word(i)).is_some_and(|row| row.spelling == "locker");
        let of_thread = i > 0 && self.says(i - 1, Sense::Mark(Mark::Threaded));
        if ends && self.draft.traits.noun.is_none() && (!lock || of_thread) {
            self.draft.thing = true;
            self.draft.consumable = true;
        } else {
            self.draft.traits.unknown = true;
        }
    }

    /// `T25`, `TX 30`, `PH3` on a line that names a screw, its head or its drive: the drive and its size (ISO 10664
    /// numbers six-lobe ones up to 100, ISO 4757 cross recesses up to 4). Gives its end.
    pub(super) fn drive_size(&self, i: usize, row: &Row) -> Option<(Drive, usize)> {
        let (drive, sizes, apart) = match row.spelling {
            "t" => (Drive::SixLobe, 3..=100, false),
            "tx" => (Drive::SixLobe, 3..=100, true),
            "ph" => (Drive::Phillips, 0..=4, true),
            _ => return None,
        };
        let tight = |at: usize| apart || !self.reader.spaced(at);
        let at = (self.reader).skip(i + 1, |tok| matches!(tok, Tok::Dash));
        let number = self.whole(at).filter(|n| sizes.contains(n));
        let driven = |at: usize| {
            let names = |sense: &Sense| matches!(sense, Sense::Head | Sense::Drive(_));
            self.reader.noun(at) == Some(Noun::Screw)
                || self.sense(at, |sense| names(sense).then_some(())).is_some()
        };
        let sized = number.is_some() && (i + 1..=at).all(tight);
        (sized && self.draft.tokens.clone().any(driven)).then_some((drive, at + 1))
    }
}

pub(super) fn is_plural(word: &str) -> bool {
    word.ends_with(['s', 'S']) && word.len() > 2
}
