//! A part: its name, and what makes it doubtful that it is one, and so many.
//!
//! A name may hold any word, so nothing of it is left over by itself. It is held against what would
//! unsettle a fastener's line as well: another figure that may count, a word that takes back, a
//! fastener's words with a size.

use std::{borrow::Cow, ops::Range};

use super::{
    callout::{Callout, ItemCells, Quantity, Role},
    draft::Draft,
    fold::{fold, fold_number, is_blank, is_space},
    number::{Prefix, Shape},
    reader::Reader,
    token::{Tok, Token},
    words::{Row, Sense, Senses, is_measure_of_parts},
};
use crate::{doubt::Doubt, hardware::PartName, unsettling};

/// Words that the figure behind them names a thing by: `type 2`, `frame 3`.
#[rustfmt::skip]
const IDENTIFYING: &[&str] = &[
    "no", "nr", "num", "number", "type", "style", "size", "model", "mod", "mark", "mk", "part", "item",
    "frame", "stage", "step", "phase", "series", "grade", "class", "rev", "revision", "version", "ref",
    "fig", "figure", "detail", "drawing", "dwg", "sheet", "section", "zone", "bay", "level", "row",
    "line", "grid", "bag", "box", "schedule", "sch", "code", "group", "pos", "position",
];

/// Those that name no thing of which there may be so many: `rev 2`.
#[rustfmt::skip]
const REFERRING: &[&str] = &[
    "type", "style", "size", "model", "mod", "mark", "mk", "series", "grade", "class", "rev", "revision", "version",
    "ref", "fig", "figure", "detail", "drawing", "dwg", "zone", "grid", "schedule", "sch", "code", "pos", "position",
];

/// Letters of `washers` and `anchors`.
const LONGEST_NOUN: usize = 7;

/// A row that names no hardware, as a part, or as its left and its right.
pub(super) fn part(
    reader: &Reader<'_>,
    drafts: &[Draft<'_>],
    cells: &ItemCells<'_>,
) -> Vec<Callout> {
    match reader.hands() {
        Some(hands) if cells.is_alone() => hands.into(),
        _ => whole(reader, drafts, cells).into_iter().collect(),
    }
}

fn whole(reader: &Reader<'_>, drafts: &[Draft<'_>], cells: &ItemCells<'_>) -> Option<Callout> {
    let mut callout = match drafts {
        [] => None,
        [one] => reader.part(one, one.body.end),
        // Commas and such stand between things that are no hardware: one description.
        [first, ..] => reader.part(first, cells.description.len()),
    };
    // How its numerals were read is told of a part, too.
    if let Some(callout) = &mut callout {
        let notes = reader.notes.iter().map(|(_, doubt)| doubt.clone());
        callout.doubts.extend(notes);
    }
    // The size of a part belongs to its description.
    if let Some(part) = callout.as_mut().and_then(|c| c.item.part.as_mut())
        && !cells.is_alone()
    {
        let mut description = part.description.take().unwrap_or_default().into_string();
        for text in cells.beside().into_iter().filter(|text| !is_blank(text)) {
            if !description.is_empty() {
                description.push_str(", ");
            }
            description.push_str(&fold(text));
        }
        part.description = Some(description.into());
    }
    callout
}

impl Reader<'_> {
    /// `rafter ties: 14 left, 14 right`, `handrail ends, left, 2 / right, 2`, `2 stringers (1 L, 1 R)`: two parts, of
    /// which each hand has its count.
    fn hands(&self) -> Option<[Callout; 2]> {
        const HANDS: &[&str] = &["left", "right", "lh", "rh", "l", "r"];
        // `2L`
        let tied = |i: usize| {
            let hand = self
                .written(i)
                .trim_start_matches(|c: char| c.is_ascii_digit());
            let figures = self.written(i).len() - hand.len();
            let pieces = self.written(i)[..figures].parse().ok()?;
            (matches!(self.tok(i), Some(Tok::Code)) && is_one_of(hand, HANDS))
                .then_some((hand, pieces))
        };
        let handed = |i: usize| self.is_word(i) && is_one_of(self.written(i), HANDS);
        let is_hand = |i: &usize| handed(*i) || tied(*i).is_some();
        let mut hands = (0..self.tokens.len()).filter(is_hand);
        let (one, other) = (hands.next()?, hands.next()?);
        if hands.next().is_some() {
            return None;
        }
        // Nothing but a count and marks stands beside each.
        let count = |range: Range<usize>| {
            let mut counts = range.clone().filter_map(|i| self.counted(i));
            let beside = |i: usize| match self.tok(i) {
                Some(Tok::Word(row)) => {
                    row.per() == Some(1) || row.kinds.meet(Senses::LINKS) || row.count().is_some()
                }
                Some(Tok::Unknown | Tok::Code) => false,
                _ => true,
            };
            let one = counts.next().filter(|_| range.clone().all(beside))?;
            counts.next().is_none().then_some(one)
        };
        let end = self.tokens.len();
        let ends = || (other + 1..end).all(|i| !self.is_word(i) && self.counted(i).is_none());
        let in_front = || self.counted(one.checked_sub(1)?);
        let (at, first, second) = match (tied(one), tied(other)) {
            (Some((_, first)), Some((_, second))) => (one, first, Some(second).filter(|_| ends())?),
            _ => match in_front() {
                Some(first) => (one - 1, first, count(one + 1..other).filter(|_| ends())?),
                None => (one, count(one + 1..other)?, count(other + 1..end)?),
            },
        };
        let name = self.text[..self.tokens[at].start].trim_matches(MARKS);
        // The sum of both may stand in front of the name or behind it.
        let name = name.trim_end_matches(['(', '[']).trim_end_matches(MARKS);
        let sum = first.checked_add(second)?.to_string();
        let name = match (name.split_once(' '), name.rsplit_once(' ')) {
            (Some((figure, rest)), _) | (_, Some((rest, figure))) if figure == sum => rest,
            _ => name,
        };
        let counts = |i: usize| match self.tok(i) {
            Some(Tok::Word(row)) => row.kinds.meet(Senses::PER.with(Senses::COUNT)),
            _ => false,
        };
        if (0..at).any(|i| counts(i) || self.is_word(i) && unsettling::is_in_name(self.written(i)))
        {
            return None;
        }
        let plain = !is_blank(name) && !name.contains(|c: char| c.is_ascii_digit());
        let hand = |at: usize, pieces: u64| Callout {
            quantity: Some(Quantity {
                pieces,
                packs: None,
            }),
            ..Callout::of_part(PartName {
                number: None,
                description: Some(fold(&format!(
                    "{}, {}",
                    name.trim_matches(MARKS),
                    tied(at).map_or_else(|| self.written(at), |(hand, _)| hand)
                ))),
            })
        };
        plain.then(|| [hand(one, first), hand(other, second)])
    }

    /// The part that a draft without hardware names: its text up to `end`, without its count.
    pub(super) fn part(&self, draft: &Draft<'_>, end: usize) -> Option<Callout> {
        if !draft.has_words() {
            return None;
        }
        let end = self.without_sums(draft.body.start..end);
        let name = self.name_without_count(draft, draft.body.start..end)?;
        let mut body = name.trim_matches(MARKS);
        // `2 pr. 6" hinges`, `2 pairs of hinges`: the rest of the count.
        if draft.quantity.is_some() {
            for rest in [". ", "of ", "OF "] {
                body = body.strip_prefix(rest).unwrap_or(body).trim_start();
            }
        }
        let mut number = None;
        // A code in front or behind is the maker's number.
        let named = draft.numbered.clone().and_then(|at| self.text.get(at));
        if let (Some(named), Some(code)) = (named, draft.code)
            && let Some(rest) = body
                .strip_prefix(named)
                .or_else(|| body.strip_suffix(named))
        {
            body = rest.trim_matches(MARKS);
            number = fold_number(code);
        } else if let (1, Some(code)) = (draft.codes, draft.code) {
            let rest = body
                .strip_prefix(code)
                .or_else(|| body.strip_suffix(code))
                .or_else(|| {
                    let inner = body.strip_suffix([')', ']'])?.strip_suffix(code)?;
                    inner.strip_suffix(['(', '['])
                });
            if let Some(rest) = rest {
                body = rest.trim_matches(MARKS);
                number = fold_number(code);
            }
        }
        let description = fold(body);
        let part = PartName {
            number,
            description: (!is_blank(&description)).then_some(description),
        };
        if part.number.is_none() && part.description.is_none() {
            return None;
        }
        Some(Callout {
            quantity: draft.quantity,
            places: draft.places.unwrap_or(1),
            doubts: self.doubts_of_part(draft, end),
            ..Callout::of_part(part)
        })
    }

    /// Where a name ends without the prices, and the sum that its count comes from, at its end.
    fn without_sums(&self, body: Range<usize>) -> usize {
        let tokens = self.tokens.iter().rev();
        let mut behind = tokens
            .skip_while(|token| token.start >= body.end)
            .peekable();
        let sums = |token: &&Token| {
            let equals = matches!(token.tok, Tok::Colon) && token.role == Some(Role::Count);
            equals || matches!(token.role, Some(Role::Price | Role::Places))
        };
        let mut end = body.end;
        while let Some(token) = behind.next_if(sums) {
            end = token.start.max(body.start);
        }
        end
    }

    /// The text of a part, with the count that stands among its words taken out.
    fn name_without_count(&self, draft: &Draft<'_>, body: Range<usize>) -> Option<Cow<'_, str>> {
        let text = self.text.get(body.clone())?;
        let count = (draft.count_at.clone())
            .and_then(|at| match self.tokens.get(at)? {
                [first, .., last] | [first @ last] => Some(first.start..last.end),
                [] => None,
            })
            .filter(|count| body.start < count.start && count.end < body.end);
        let Some(count) = count else {
            return Some(text.into());
        };
        let before = self.text[body.start..count.start].trim_end_matches(MARKS);
        let behind = self.text[count.end..body.end].trim_start();
        let between = if behind.starts_with([',', ';']) {
            ""
        } else {
            " "
        };
        Some(format!("{before}{between}{behind}").into())
    }

    /// What makes it doubtful that a draft names a part and no hardware, or anything at all, and that so
    /// many are meant. `end`: of its name in the text.
    fn doubts_of_part(&self, draft: &Draft<'_>, end: usize) -> Vec<Doubt> {
        let mut doubts = draft.doubts.clone();
        let behind = self.tokens.partition_point(|token| token.start < end);
        let tokens = draft.tokens.start..behind.max(draft.tokens.start);
        if draft.tool {
            doubts.push(Doubt::Tool);
        } else if draft.consumable {
            doubts.push(Doubt::Consumable);
        } else if !draft.thing || draft.odd_thing {
            doubts.extend(self.may_be_fastener(draft));
        }
        let kits = |i: usize| {
            self.whole(i).is_some() && self.word(i + 1).is_some_and(|row| row.spelling == "kit")
        };
        if draft.tokens.clone().any(kits) {
            doubts.push(Doubt::HowMany(
                "so many kits: whether the count is of one or of all is not said".into(),
            ));
        }
        if draft.quantity.is_some() {
            let count = draft.count_at.clone().unwrap_or_default();
            let named = self.identified_by(count.start);
            if let Some(at) = named.filter(|&at| is_one_of(self.written(at), REFERRING)) {
                let told = &self.text[self.tokens[at].start..self.tokens[count.start].end];
                doubts.push(Doubt::HowMany(
                    format!("\"{told}\" may tell which it is, and not how many").into(),
                ));
            }
            let other = |i: &usize| !count.contains(i) && self.may_count(*i, &count);
            for i in tokens.clone().filter(other) {
                let figure = self.written(i);
                doubts.push(Doubt::MayBeCount(figure.into()));
            }
        }
        // `3 paor gate latches`
        let several = |i: usize| {
            let word = self.written(i).to_lowercase();
            let one_off = |known: &&str| strsim::osa_distance(&word, known) == 1;
            matches!(self.tok(i), Some(Tok::Unknown))
                && ["pair", "pairs", "dozen", "gross"].iter().any(one_off)
        };
        if let Some(at) = draft.count_at.as_ref().map(|count| count.end)
            && tokens.contains(&at)
            && several(at)
        {
            let word = self.written(at);
            doubts.push(Doubt::HowMany(
                format!("\"{word}\" may belong to the count").into(),
            ));
        }
        let per = |i: &usize| {
            let several = self.word(*i).and_then(Row::per).is_some_and(|n| n > 1);
            several && self.tokens[*i].role != Some(Role::Count)
        };
        for word in tokens.clone().filter(per).map(|i| self.written(i)) {
            doubts.push(Doubt::HowMany(
                format!("\"{word}\" may belong to the count").into(),
            ));
        }
        // `angle 9O x 9O`
        let misread = |word: &&str| {
            word.starts_with(|c: char| c.is_ascii_digit())
                && word.contains('O')
                && word.bytes().all(|b| b.is_ascii_digit() || b == b'O')
        };
        if let Some(figure) = self.text.split(is_space).find(misread) {
            doubts.push(Doubt::Said(
                format!("\"{figure}\": a letter in the place of a figure").into(),
            ));
        }
        let unsettles = |i: &usize| self.is_word(*i) && unsettling::is_in_name(self.written(*i));
        for word in tokens.filter(unsettles).map(|i| self.written(i)) {
            doubts.push(Doubt::HowMany(
                format!("\"{word}\": may take pieces away, or mean others").into(),
            ));
        }
        if let Some(weight) = self.weight_of_fasteners(draft) {
            doubts.push(Doubt::Said(
                format!("\"{weight}\": how many that is by weight is not stated").into(),
            ));
        }
        let text = self.text.trim();
        let marked = text.starts_with(['†', '‡', '§']);
        if marked || (text.starts_with(['(', '[']) && text.ends_with('.')) {
            doubts.push(Doubt::HowMany("may be a footnote, and no item".into()));
        }
        doubts
    }

    /// The weight by which small fasteners are sold: `felt nails 20 mm, 500 g`.
    fn weight_of_fasteners(&self, draft: &Draft<'_>) -> Option<&str> {
        const BY_WEIGHT: &[&str] = &[
            "nail", "nails", "staple", "staples", "tack", "tacks", "brad", "brads", "spike",
            "spikes", "screws", "bolts", "nuts", "washers", "rivets", "pins",
        ];
        const WEIGHTS: &[&str] = &["g", "kg", "kgs", "lb", "lbs", "oz"];
        let mut tokens = draft.tokens.clone();
        let small = tokens.any(|i| self.is_word(i) && is_one_of(self.written(i), BY_WEIGHT));
        let weight = |i: &usize| {
            self.is_figure(*i) && self.is_word(i + 1) && is_one_of(self.written(i + 1), WEIGHTS)
        };
        let at = draft.tokens.clone().find(weight).filter(|_| small)?;
        Some(&self.text[self.tokens[at].start..self.tokens[at + 1].end])
    }

    /// The doubt of a part that no word of its own names: the size of a thread, or a fastener's words
    /// with a size.
    fn may_be_fastener(&self, draft: &Draft<'_>) -> Option<Doubt> {
        let prefixed = |i| matches!(self.number(i), Some((.., Prefix::Metric | Prefix::Number)));
        let noun = |i| self.noun(i).is_some();
        let threaded = draft.dims.thread.is_some()
            || draft.tokens.clone().any(prefixed)
            || (draft.quantity.is_some() && draft.dims.is_fraction_of_fasteners());
        let traits = draft.traits;
        // A bolt splitter 3/8 is no bolt.
        let compound = draft.odd_thing && !draft.plural && draft.dims.len() < 2;
        let named = draft.tokens.clone().any(noun) && !compound
            || traits.marks.are_of_fasteners()
            || draft.tokens.clone().any(|i| self.is_misspelt_noun(i));
        let named = named && !draft.is_sawn_stud();
        let sized = !draft.dims.is_empty()
            || self.figures_of(&draft.tokens).is_some() && traits.noun.is_none();
        let why = match () {
            () if threaded => {
                "the size of a thread, and no word that says of what: taken as a part"
            }
            () if named && sized => {
                "a fastener's word with a size, and words that are not known: taken as a part"
            }
            () => return None,
        };
        Some(Doubt::Said(why.into()))
    }

    /// True for a word that is not known and one letter off from a fastener's: `wushers`, `bots`.
    fn is_misspelt_noun(&self, i: usize) -> bool {
        const NOUNS: &[&str] = &[
            "bolts", "screw", "screws", "washer", "washers", "anchor", "anchors", "rivet",
            "rivets", "studs", "nuts", "pins", "rods",
        ];
        let word = self.written(i);
        matches!(self.tok(i), Some(Tok::Unknown))
            && (3..=LONGEST_NOUN + 1).contains(&word.len())
            && (NOUNS.iter()).any(|noun| strsim::osa_distance(&word.to_lowercase(), noun) == 1)
    }

    /// True for a figure among the words of a part that may be how many there are, beside the count that
    /// was taken: one that stands by itself (`bracket 7`, `(3)`, `x2`, `two`), or in front of another.
    /// Not one of a size, with a unit, of a maker's number, or by which the thing is named (`type 2`).
    fn may_count(&self, i: usize, count: &Range<usize>) -> bool {
        let shape = match self.tokens[i].tok {
            Tok::Num {
                shape,
                prefix: Prefix::None,
                ..
            } => shape,
            Tok::Num { .. } => Shape::Fraction,
            Tok::Count(_) => Shape::Whole,
            Tok::Word(row) if row.count().is_some() => Shape::Whole,
            _ => return false,
        };
        let told = matches!(
            self.tokens[i].role,
            Some(
                Role::Price
                    | Role::Number
                    | Role::Grade
                    | Role::Torque
                    | Role::Standard
                    | Role::Note
                    | Role::Measure
                    | Role::Places
                    | Role::Passed
            )
        );
        if told || self.is_of_code(i) {
            return false;
        }
        let part_of_inch = matches!(
            self.number(i + 1),
            Some((part, Shape::Fraction, Prefix::None)) if part.numer() < part.denom()
        );
        let mixed = shape == Shape::Whole && part_of_inch;
        // `3 3.5 rail brackets`
        let behind_count = i == count.end && matches!(shape, Shape::Decimal(_));
        if self.is_figure(i + 1) && !mixed || behind_count && !self.is_sized(i) {
            return true;
        }
        let alone = shape == Shape::Whole && !mixed;
        // `6 no. 1 clips`: behind a count, the sign is its own.
        let named = self.identified_by(i).is_some_and(|at| at != count.end);
        alone && !self.is_in_size(i) && !self.is_sized(i) && !named
    }

    fn is_figure(&self, i: usize) -> bool {
        matches!(self.tok(i), Some(Tok::Num { .. } | Tok::Count(_)))
    }

    /// True for a figure that is tied to letters or other figures: `FB-2`, `4-way`.
    fn is_of_code(&self, i: usize) -> bool {
        let ties = |at: usize| {
            matches!(
                self.tok(at),
                Some(Tok::Dash | Tok::Slash | Tok::Dot | Tok::Word(_) | Tok::Unknown | Tok::Code)
            )
        };
        let tight = |at: usize| at < self.tokens.len() && !self.spaced(at);
        // ` -4`
        let sign =
            i == 1 || i > 1 && self.spaced(i - 1) && matches!(self.tok(i - 1), Some(Tok::Dash));
        tight(i + 1) && ties(i + 1) || i > 0 && tight(i) && ties(i - 1) && !sign
    }

    /// True for a figure of a size: `2 x 6`, `50 x 50`. One that its sign alone is tied to counts:
    /// `4x 6x6 posts`, `12 x2`.
    fn is_in_size(&self, i: usize) -> bool {
        let joins = |at: usize| matches!(self.tok(at), Some(Tok::Join | Tok::Slash));
        let measures = |at: usize| matches!(self.number(at), Some((.., Prefix::None)));
        let before = i > 1 && joins(i - 1) && (measures(i - 2) || self.is_unit(i - 2));
        let behind = joins(i + 1) && measures(i + 2);
        let sign_tied = |one: usize, other: usize| self.spaced(one) != self.spaced(other);
        before && !sign_tied(i - 1, i) || behind && !sign_tied(i + 1, i + 2)
    }

    fn is_unit(&self, i: usize) -> bool {
        let unit = |row: &Row| row.kinds.meet(Senses::UNITS);
        matches!(self.tok(i), Some(Tok::Inch | Tok::Foot)) || self.word(i).is_some_and(unit)
    }

    /// True for a figure with a unit or a word that makes a measure of it: `14 ft`, `8"`, `4 hole`.
    fn is_sized(&self, i: usize) -> bool {
        let dash = usize::from(matches!(self.tok(i + 1), Some(Tok::Dash)));
        match self.tok(i + 1 + dash) {
            Some(Tok::Inch | Tok::Foot) => true,
            Some(Tok::Mark) => !self.spaced(i + 1),
            Some(Tok::Word(row)) => {
                row.kinds.meet(Senses::UNITS.with(Senses::MEASURES))
                    || [Sense::Torque, Sense::Pound, Sense::Hardness]
                        .iter()
                        .any(|&sense| row.says(sense))
                    || is_measure_of_parts(self.written(i + 1 + dash))
            }
            Some(Tok::Unknown) => is_measure_of_parts(self.written(i + 1 + dash)),
            _ => false,
        }
    }

    /// The word by which a figure names a thing.
    pub(super) fn identified_by(&self, i: usize) -> Option<usize> {
        let marked = |at: &usize| matches!(self.tok(*at), Some(Tok::Dot | Tok::Colon));
        let before = i.checked_sub(1);
        let before = before.filter(marked).map_or(before, |at| at.checked_sub(1));
        before.filter(|&at| self.is_word(at) && is_one_of(self.written(at), IDENTIFYING))
    }

    fn written(&self, i: usize) -> &str {
        &self.text[self.tokens[i].start..self.tokens[i].end]
    }
}

fn is_one_of(word: &str, known: &[&str]) -> bool {
    known.iter().any(|known| word.eq_ignore_ascii_case(known))
}

/// Marks about a name that are none of it.
const MARKS: fn(char) -> bool =
    |c| is_space(c) || matches!(c, ',' | ';' | ':' | '=' | '-' | '–' | '—' | '•' | '*' | '~');
