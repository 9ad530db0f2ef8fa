//! Drafts to callouts: what the pieces of one text say of each other (`1/2 x 4 bolt c/w nut and 2 washers`).

use std::ops::Range;

use rustc_hash::FxHashSet;

use super::{
    along::{Along, MOST_ON_A_BOLT, OfOne},
    callout::{Callout, Quantity, Role, SAID_TWICE},
    draft::Draft,
    number::Prefix,
    reader::Reader,
    size::{Dim, SLENDEREST, Sizer, thickness},
    token::Tok,
    words::{Mark, Noun, Sense},
};
use crate::{
    doubt::Doubt,
    hardware::{Diameter, Grade, Item, Kind, Length, Ratio, Style, Unit, washers::of_hole},
};

impl Reader<'_> {
    /// True for so few that they are of each piece of the first, where a word behind says so: `+ 2 FW ea`.
    fn is_of_each(&self, draft: &Draft<'_>) -> bool {
        let few = draft.quantity.is_some_and(|q| q.pieces <= MOST_ON_A_BOLT);
        let mut behind = draft.noun_at.map_or(0, |at| at + 1)..draft.tokens.end;
        let each = |at: usize| self.says(at, Sense::Each) && self.whole(at - 1).is_none();
        draft.each && few && draft.noun_at.is_some() && behind.any(each)
    }

    /// Takes the one size of a U-bolt for that of its pipe, where the pipe stands right behind: `U-bolt 3 in pipe`.
    fn free_of_pipe(&self, draft: &mut Draft<'_>) {
        let end = draft.tokens.end.min(self.tokens.len());
        let pipe = |at: &usize| self.word(*at).is_some_and(|row| row.spelling == "pipe");
        let sized = |at: usize| self.tokens[at].role == Some(Role::Size);
        if !draft.traits.marks.has(Mark::U) || draft.dims.len() != 1 {
            return;
        }
        let Some(pipe) = (draft.tokens.start + 1..end).find(pipe) else {
            return;
        };
        let dim = draft.dims.get(0).filter(|dim| dim.prefix == Prefix::None);
        if let Some(dim) = dim.filter(|_| sized(pipe - 1)) {
            let doubt = format!(
                "{} is the pipe's size: that of the thread is not stated",
                dim.written
            );
            draft.dims.clear();
            draft.doubts.push(Doubt::Said(doubt.into()));
        }
    }

    /// True where a grade or a finish stands behind a comma, and none before: `bolt w/ nut, stainless`.
    fn finish_trails(&self, tokens: &Range<usize>) -> bool {
        let end = tokens.end.min(self.tokens.len());
        let comma = (tokens.start..end)
            .rev()
            .find(|&i| matches!(self.tok(i), Some(Tok::Comma)));
        let finished = |mut at: Range<usize>| {
            at.any(|i| matches!(self.tokens[i].role, Some(Role::Finish | Role::Grade)))
        };
        comma.is_some_and(|at| finished(at..end) && !finished(tokens.start..at))
    }
}

/// Turns drafts into callouts; `at` is the first that is hardware.
pub(super) fn finish(reader: &Reader<'_>, drafts: &mut [Draft<'_>], at: usize) -> Vec<Callout> {
    for draft in drafts.iter_mut() {
        reader.free_of_pipe(draft);
    }
    lend_size(drafts, at);
    settle_sets(drafts);
    let notes = Notes::of(reader);
    let trails = drafts
        .last()
        .is_some_and(|last| last.with && reader.finish_trails(&last.tokens));
    let main = drafts.first();
    let mut first = main.map(First::of).unwrap_or_default();
    first.of = OfOne::of(drafts);
    // `4 legs, 4 bolts each`
    let of_things = first.count.is_some() && main.is_some_and(|draft| !draft.is_hardware());
    let mut callouts = Vec::with_capacity(drafts.len());
    let mut lost = Vec::new();
    for (i, draft) in drafts.iter_mut().enumerate() {
        if i != at && !draft.is_hardware() {
            match reader.part(draft, draft.body.end) {
                Some(mut part) => {
                    // `w/ 2 nuts shiny`, `8 A325 with 3/4 x 2-1/2 bolts`
                    let unnamed = part
                        .item
                        .part
                        .as_ref()
                        .is_some_and(|p| p.description.is_none());
                    let known = !draft.thing && !draft.traits.unknown;
                    if draft.odd_thing || known && (draft.codes == 0 || unnamed) {
                        part.doubts.push(Doubt::Said(
                            "named among fasteners, and not known as a part: may be one of them"
                                .into(),
                        ));
                    }
                    callouts.push(part);
                }
                None => lost.extend(reader.figures_of(&draft.tokens).map(Doubt::LeftOver)),
            }
            continue;
        }
        draft.with |= i > 0 && !of_things && reader.is_of_each(draft);
        let each = i > 0
            && of_things
            && (draft.each || draft.tokens.clone().any(|j| reader.says(j, Sense::Each)));
        let mut callout = hardware(reader, &notes, draft, first, i > 0);
        if let Some(times) = draft.per_bolt {
            let bolts = first.count.filter(|_| first.is_fastener && i > 0);
            count_per_bolt(&mut callout, draft, times, bolts);
        }
        // `with 2 bolts each` says it; `with 2 ea bolts` may give the unit of the count.
        let behind = draft.noun_at.unwrap_or(draft.tokens.end)..draft.tokens.end;
        let mut behind = behind.filter(|&j| reader.says(j, Sense::Each));
        if each && !(draft.with && behind.next().is_some()) {
            callout.doubts.push(Doubt::Multiplier("each".into()));
        }
        // `2 brackets c/w 4 bolts`
        if let (true, Some(things), Some(stated)) =
            (of_things, first.count.filter(|_| i > 0), draft.quantity)
            && draft.with
            && !draft.each
            && things.pieces > 1
            && stated.pieces >= things.pieces
            && !callout
                .doubts
                .iter()
                .any(|doubt| matches!(doubt, Doubt::OrElse { .. }))
        {
            callout.doubts.push(Doubt::OrElse {
                pieces: stated.pieces.saturating_mul(things.pieces),
                said: format!("{} may be with each, or in all", stated.pieces).into(),
            });
        }
        callouts.push(callout);
    }
    if !notes.all.is_empty() || !lost.is_empty() {
        let untold = notes.untold(&callouts);
        if let Some(first) = callouts.first_mut() {
            first.doubts.extend(untold);
            first.doubts.extend(lost);
        }
    }
    share_size(&mut callouts);
    doubt_misfits(&mut callouts);
    if trails {
        share_finish(&mut callouts);
    }
    let slash = callouts.len() > 1 && reader.text.contains(" / ");
    if let Some(at) =
        (1..callouts.len()).find(|&at| slash && callouts[at - 1].says_again(&callouts[at]))
    {
        callouts[at].doubts.push(Doubt::HowMany(SAID_TWICE.into()));
    }
    for callout in &mut callouts {
        doubt_proportions(callout);
        let item = &mut callout.item;
        // SAE J995 grades are for inch nuts: the figure of a metric one is its class (ISO 898-2).
        if item.kind == Some(Kind::Nut) && matches!(item.diameter, Some(Diameter::Metric(_))) {
            item.grade = match item.grade {
                Some(Grade::Grade5) => Some(Grade::Class5),
                Some(Grade::Grade8) => Some(Grade::Class8),
                stated => stated,
            };
        }
        if callout
            .quantity
            .is_some_and(|quantity| quantity.pieces == 0)
        {
            callout.doubts.push(Doubt::Said("a count of none".into()));
        }
        if item.kind != Some(Kind::Part) {
            if item.diameter.is_none() {
                callout.doubts.push(Doubt::NoSize);
            }
            if item.kind.is_none() {
                callout.doubts.push(Doubt::NoKind);
            }
            let long = match item.kind {
                Some(Kind::Bolt) => {
                    !matches!(item.style, Some(Style::U | Style::Eye | Style::Toggle))
                }
                Some(Kind::Screw | Kind::Rod) => true,
                _ => false,
            };
            if long && item.diameter.is_some() && item.length.is_none() {
                callout.doubts.push(Doubt::Said("no length stated".into()));
            }
            let flat = !matches!(
                item.style,
                Some(Style::Coupling | Style::Barrel | Style::T | Style::Shoulder)
            );
            if item.kind == Some(Kind::Nut) && flat && item.length.is_some() {
                callout.doubts.push(Doubt::Said(
                    "a nut with a length: may be a bolt's, with its nut".into(),
                ));
            }
        }
    }
    callouts
}

/// The doubts about how numerals were read, by where those stand: a long line has many of them.
struct Notes<'r> {
    all: &'r [(usize, Doubt)],
    /// Where each stands in the text, and its place among all, in the order of the text.
    places: Vec<(usize, usize)>,
}

impl<'r> Notes<'r> {
    fn of(reader: &'r Reader<'_>) -> Notes<'r> {
        let all = &reader.notes;
        if all.is_empty() {
            let places = Vec::new();
            return Notes { all, places };
        }
        let places = all.iter().enumerate().map(|(i, (at, _))| (*at, i));
        let mut places: Vec<_> = places.collect();
        places.sort_unstable();
        Notes { all, places }
    }

    /// Those on some bytes of the text, in the order in which they came up.
    fn on(&self, bytes: Range<usize>) -> impl Iterator<Item = Doubt> {
        let behind = |at: usize| self.places.partition_point(|place| place.0 < at);
        let noted = &self.places[behind(bytes.start)..behind(bytes.end)];
        let mut noted: Vec<usize> = noted.iter().map(|place| place.1).collect();
        noted.sort_unstable();
        noted.into_iter().map(|i| self.all[i].1.clone())
    }

    /// Those that belong to no item of their own; they are told of the first.
    fn untold(&self, callouts: &[Callout]) -> Vec<Doubt> {
        if self.all.is_empty() {
            return Vec::new();
        }
        let told = callouts.iter().flat_map(|callout| &callout.doubts);
        let told: FxHashSet<&Doubt> = told.collect();
        let all = self.all.iter().map(|(_, doubt)| doubt);
        all.filter(|doubt| !told.contains(doubt)).cloned().collect()
    }
}

/// A bolt that is thicker than long is a doubt, and so is, behind a count, a thick one hardly longer than
/// that: the figures may stand the other way round, or the count run into them.
pub(super) fn doubt_proportions(callout: &mut Callout) {
    let item = &callout.item;
    let driven = matches!(item.kind, Some(Kind::Bolt | Kind::Screw));
    match (item.diameter, item.length) {
        (Some(Diameter::Metric(_)), Some(Length::Inch(_)))
        | (Some(Diameter::Inch(_) | Diameter::Number(_)), Some(Length::Millimetre(_)))
            if driven =>
        {
            callout.doubts.push(Doubt::Said(
                "a diameter in millimetres and a length in inches, or the other way round".into(),
            ));
        }
        _ => {}
    }
    let item = &callout.item;
    if callout.quantity.is_some() && is_out_of_proportion(item) {
        callout.doubts.push(Doubt::HowMany(
            "far longer or wider than such pieces are made: figures may have run together".into(),
        ));
    }
    let item = &callout.item;
    if !matches!(item.kind, Some(Kind::Bolt | Kind::Screw | Kind::Rod)) {
        return;
    }
    let ratio = Ratio::from_integer;
    let (stout, thick) = match (item.diameter, item.length) {
        (Some(Diameter::Inch(d)), Some(Length::Inch(l))) => (
            l < d,
            d > Ratio::new_raw(3, 2) && l * ratio(2) < d * ratio(3),
        ),
        // ISO 4762 has an M20 x 16.
        (Some(Diameter::Metric(d)), Some(Length::Millimetre(l))) => {
            (l < d && l * ratio(3) < d * ratio(2), false)
        }
        _ => return,
    };
    // Threaded rod is sold in bars of up to twelve feet (common practice, no source).
    let (made, longest) = match item.kind {
        Some(Kind::Rod) => ("rods", 144),
        _ => ("bolts", 24),
    };
    let is_long = matches!(item.length, Some(Length::Inch(l)) if l > ratio(longest));
    if is_long {
        callout.doubts.push(Doubt::Said(
            format!("longer than {made} are made in inches: may be millimetres").into(),
        ));
    } else if stout {
        callout
            .doubts
            .push(Doubt::Said("thicker than it is long".into()));
    } else if thick && item.thread.is_none() && callout.quantity.is_some() {
        callout
            .doubts
            .push(Doubt::Said("hardly longer than it is thick".into()));
    }
}

/// True for a washer over six and a half times as wide as its hole, a rivet or set screw twelve times as
/// long as it is thick, a pin, an anchor or a screw of a number size sixty times (bounds of ours, common
/// practice, no source).
fn is_out_of_proportion(item: &Item) -> bool {
    let ratio = Ratio::from_integer;
    let Some(diameter) = item.diameter else {
        return false;
    };
    let by_number = matches!(diameter, Diameter::Number(_));
    let (most, length) = match (item.kind, item.style) {
        (Some(Kind::Washer), _) => (Ratio::new_raw(13, 2), item.outside),
        (Some(Kind::Rivet), _) | (_, Some(Style::Set)) => (ratio(12), item.length),
        (Some(Kind::Anchor | Kind::Pin), _) => (ratio(SLENDEREST), item.length),
        (Some(Kind::Screw), _) if by_number => (ratio(SLENDEREST), item.length),
        _ => return false,
    };
    length.is_some_and(|length| {
        length.unit() == diameter.unit() && length.value() > thickness(diameter) * most
    })
}

/// `8 bolts, 2 washers per bolt`: so many for each bolt. Under head and nut lie two, so a count beside
/// those words is of all where it is two to a bolt; any other may be of all, of a bolt, or of a side.
fn count_per_bolt(callout: &mut Callout, draft: &Draft<'_>, times: u64, bolts: Option<Quantity>) {
    let Some(bolts) = bolts else {
        callout.doubts.push(Doubt::Multiplier("per bolt".into()));
        return;
    };
    let all = times.checked_mul(bolts.pieces);
    let pieces = match draft.quantity.map(|stated| stated.pieces) {
        None if times > 1 => all,
        None => None,
        Some(stated) if times > 1 && Some(stated) == all => all,
        Some(stated) => {
            // `1 washer each side`
            if times > 1 && !(draft.each && stated < times) {
                callout.doubts.push(Doubt::OrElse {
                    pieces: stated,
                    said: format!("{stated} may be for each bolt, or in all").into(),
                });
            }
            all.and_then(|all| all.checked_mul(stated))
        }
    };
    callout.quantity = pieces.map(|pieces| Quantity {
        pieces,
        packs: None,
    });
}

/// What is named first, of which others tell how many.
#[derive(Clone, Copy, Default)]
struct First {
    count: Option<Quantity>,
    is_fastener: bool,
    /// A through bolt has one nut, a U-bolt two; studs and what is not known may have either.
    nuts_of_one: Option<u64>,
    /// Under the head and the nut of a bolt lies a washer each, and one under each nut of a U-bolt.
    washers_of_one: Option<u64>,
    /// What the words about it show of what is named with it.
    of: OfOne,
}

impl First {
    fn of(draft: &Draft<'_>) -> First {
        let noun = draft.traits.noun;
        First {
            count: draft.quantity,
            is_fastener: matches!(
                noun,
                Some(Noun::Bolt | Noun::Screw | Noun::Stud | Noun::Rod | Noun::Anchor)
            ),
            nuts_of_one: match noun {
                Some(Noun::Bolt) if draft.traits.marks.has(Mark::U) => Some(2),
                Some(Noun::Bolt | Noun::Screw) if !draft.traits.unknown => Some(1),
                _ => None,
            },
            washers_of_one: (noun == Some(Noun::Bolt)).then_some(2),
            of: OfOne::Nothing,
        }
    }

    /// So many of an item that is named with it.
    fn along(self, kind: Option<Kind>, of_each: bool) -> Along {
        if !self.is_fastener {
            return Along::default();
        }
        let usual = match kind {
            Some(Kind::Nut) => self.nuts_of_one,
            Some(Kind::Washer) => self.washers_of_one,
            _ => None,
        };
        let holds_by_two = usual.is_some() && self.nuts_of_one == Some(2);
        Along {
            usual,
            least: if holds_by_two { 2 } else { 0 },
            of: self.of,
            ..Along::on(kind, self.nuts_of_one, of_each)
        }
    }
}

impl OfOne {
    /// What the words of a line show, its first item first.
    fn of(drafts: &[Draft<'_>]) -> OfOne {
        let Some((first, others)) = drafts.split_first() else {
            return OfOne::Nothing;
        };
        let is_one = |of: &Draft<'_>| {
            let small = matches!(of.traits.noun, Some(Noun::Nut | Noun::Washer));
            of.with && small && !of.plural && of.quantity.is_none() && of.per_bolt.is_none()
        };
        match first.counted_behind {
            true if first.plural => OfOne::CountedBehind,
            true => OfOne::Named,
            false if others.iter().any(is_one) => OfOne::OneBeside,
            false => OfOne::Nothing,
        }
    }
}

fn hardware(
    reader: &Reader<'_>,
    notes: &Notes<'_>,
    draft: &mut Draft<'_>,
    first: First,
    follows: bool,
) -> Callout {
    let mut doubts = std::mem::take(&mut draft.doubts);
    let mut item = Item {
        full_thread: draft.full_thread,
        point: draft.point,
        ..Item::default()
    };
    draft
        .traits
        .read(draft.dims.len() > 1, &mut item, &mut doubts);
    item.left_hand = draft.left_hand;
    item.called = reader.called(draft, &item);
    // A word of a nut or a washer may tell its style.
    if item.called.is_some() && draft.traits.names_no_style() {
        item.style = None;
    }
    // A standard that is not known may be that of another piece, so that it stays in the name.
    if let Some(standard) = draft.unknown_standard {
        let kind = item.kind.map_or("piece", Kind::as_str);
        doubts.push(Doubt::Said(
            format!("{standard} may be of another {kind}").into(),
        ));
    }
    if item.kind == Some(Kind::Rod) && item.full_thread == Some(true) {
        item.style = item.style.or(Some(Style::Threaded));
    }
    // A full nut is one of full height.
    if item.kind == Some(Kind::Nut) {
        item.full_thread = None;
    }
    // A point is ground on set screws.
    if item.style != Some(Style::Set)
        && let Some(point) = item.point.take()
        && item.style != Some(Style::Carriage)
    {
        let doubt = format!("{point} on what is no set screw: passed over");
        doubts.push(Doubt::Said(doubt.into()));
    }
    let bare = draft.bare_size && draft.dims.len() == 1 && reader.notation.unit.is_none();
    let mut notation = reader.notation;
    // Standards of ISO and DIN are metric.
    if !draft.standard.is_empty() {
        notation.unit = notation.unit.or(Some(Unit::Millimetre));
    }
    let mut sizer = Sizer {
        notation,
        kind: item.kind,
        style: item.style,
        doubts,
    };
    let is_signed = draft
        .dims
        .get(0)
        .is_some_and(|dim| dim.prefix == Prefix::Metric);
    let run_together = draft.dims.iter().filter_map(Dim::run_together);
    sizer.doubts.extend(run_together);
    let over = sizer.read(&mut draft.dims, &mut item);
    if item.kind == Some(Kind::Washer)
        && !is_signed
        && let Some(hole) = item.diameter.map(in_millimetres)
        && let Some(nominal) = of_hole(hole)
    {
        item.diameter = Some(nominal);
        if draft.standard.is_empty() {
            let doubt = format!(
                "{} taken for the hole of a washer for {nominal}",
                hole.to_string().trim_start_matches('M')
            );
            sizer.doubts.push(Doubt::Said(doubt.into()));
        }
    }
    sizer.audit(&item);
    let mut doubts = sizer.doubts;
    if let (true, Some(diameter)) = (bare, item.diameter)
        && !doubts.iter().any(Doubt::is_open)
    {
        let doubt = format!("a figure without a unit taken for the size: {diameter}");
        doubts.push(Doubt::HowMany(doubt.into()));
    }
    if draft.tied_sign && matches!(item.kind, Some(Kind::Nut | Kind::Washer)) {
        doubts.push(Doubt::HowMany(
            "\"x\" tied to a whole number: may be how many".into(),
        ));
    }
    for dim in over {
        doubts.push(Doubt::LeftOver(dim.written.into()));
    }
    let tokens = draft.tokens.start..draft.tokens.end.min(reader.tokens.len());
    if !notes.all.is_empty()
        && let [first, .., last] | [first @ last] = &reader.tokens[tokens]
    {
        doubts.extend(notes.on(first.start..last.end));
    }
    reader.idle_words(draft.tokens.clone(), draft.traits.marks, &item, &mut doubts);
    reader.left_over(draft.tokens.clone(), &mut doubts);
    let mut quantity = draft.quantity;
    let counted = quantity.is_some() || draft.per_bolt.is_some();
    let along = first.along(item.kind, draft.each);
    let main_count = first.count.filter(|_| follows);
    let nuts_of_one = first.nuts_of_one.filter(|_| item.kind == Some(Kind::Nut));
    if follows && draft.plural && !counted && nuts_of_one == Some(2) {
        // `4 U-bolts c/w nuts`, or with a count in another cell.
        let pieces = main_count.map_or(1, |main| main.pieces).checked_mul(2);
        quantity = pieces.map(|pieces| Quantity {
            pieces,
            packs: None,
        });
        doubts.push(Doubt::HowMany(
            "how many is not stated: taken as two to each U-bolt".into(),
        ));
    } else if follows && draft.plural && !counted && item.length.is_none() {
        // `12 bolts and nuts`, `12 bolts with washers`: one to each, as a rule.
        if let Some(main) = main_count {
            quantity = Some(main);
            if nuts_of_one != Some(1) {
                let doubt = format!(
                    "how many is not stated: taken as {}, as of the first",
                    main.pieces
                );
                doubts.push(Doubt::HowMany(doubt.into()));
            }
        }
    } else if follows && draft.with {
        let main = main_count.map_or(1, |q| q.pieces);
        let stated = quantity.map_or(1, |q| q.pieces);
        let (pieces, doubt) = along.in_words(stated, main, draft.led_by_each);
        doubts.extend(doubt);
        if pieces != Some(stated) || quantity.is_none() {
            quantity = pieces.map(|pieces| Quantity {
                pieces,
                packs: None,
            });
        }
    }
    Callout {
        item,
        quantity,
        comes_with: draft.with,
        along,
        lent_size: false,
        places: draft.places.unwrap_or(1),
        part_number: draft.code.map(|code| code.to_uppercase().into()),
        doubts,
    }
}

/// `6 sets bolt, nut and washer`, `bolt with 2 nuts, qty 4`: a count of the whole joint is the first
/// item's, and each of the others is there once in it or as often as it says. How many pieces of one
/// item make a set is not said by `6 sets of bolts`.
fn settle_sets(drafts: &mut [Draft<'_>]) {
    let whole = |pieces| {
        Some(Quantity {
            pieces,
            packs: None,
        })
    };
    if let [one] = drafts {
        if std::mem::take(&mut one.sets) {
            let doubt = match one.quantity.take() {
                Some(sets) => Some(format!(
                    "how many are in each of {} sets is not stated",
                    sets.pieces
                )),
                // `M12 x 60 bolt set`; `Bolt set` is a name over its pieces.
                None if one.dims.diameter().is_some() => {
                    Some("what is in a set is not stated".to_owned())
                }
                None => None,
            };
            one.doubts
                .extend(doubt.map(|doubt| Doubt::HowMany(doubt.into())));
        }
        if let Some(late) = one.late.take()
            && one.quantity != whole(late)
        {
            let pieces = one.quantity.map_or(0, |q| q.pieces);
            one.doubts.push(Doubt::TwoQuantities(pieces, late));
            one.quantity = None;
        }
        return;
    }
    // `2 sets of bolts, nuts and washers`
    if let Some(first) = drafts.first_mut().filter(|of| of.sets_of && of.plural)
        && let Some(sets) = first.quantity.take()
    {
        first.sets = false;
        first.doubts.push(Doubt::HowMany(
            format!("how many are in each of {} sets is not stated", sets.pieces).into(),
        ));
    }
    let late = drafts.iter_mut().rev().find_map(|draft| draft.late.take());
    // `bolt with nut (8)`
    let uncounted = (drafts.iter().rev().skip(1)).all(|draft| draft.quantity.is_none());
    let bracketed = |draft: &&mut Draft<'_>| draft.with && draft.bracketed && uncounted;
    let joint = (drafts.last_mut().filter(bracketed)).and_then(|last| last.quantity.take());
    let late = late.or(joint.map(|joint| joint.pieces));
    let sets = drafts.iter().position(|draft| draft.sets);
    let counted = sets.and_then(|at| {
        let quantity = drafts[at].quantity;
        (at > 0).then(|| drafts[at].quantity.take());
        quantity
    });
    // The sets are counted in front.
    let led = sets == Some(0) && late.is_none();
    let Some((first, others)) = drafts.split_first_mut() else {
        return;
    };
    match (first.quantity, late) {
        (None, Some(late)) => {
            first.quantity = whole(late);
            first.counted_behind = true;
        }
        (Some(stated), Some(late)) if stated.pieces != late => {
            first.doubts.push(Doubt::TwoQuantities(stated.pieces, late));
            first.quantity = None;
        }
        _ => {}
    }
    if sets.is_some() {
        match (first.quantity, counted) {
            // `6 bolt & nut 14 sets`
            (Some(stated), Some(sets)) if stated.pieces != sets.pieces => {
                let two = Doubt::TwoQuantities(stated.pieces, sets.pieces);
                first.doubts.push(two);
                first.quantity = None;
            }
            (stated, counted) => first.quantity = stated.or(counted),
        }
        let sets = first.quantity.map_or(0, |quantity| quantity.pieces);
        let of_one = first.sets_of && !first.plural;
        for other in others {
            match other.quantity {
                None => other.with = true,
                // `4 sets: bolt, nut and 2 washers`
                Some(each) if led && (of_one || each.pieces < sets) => other.with = true,
                Some(_) if led => other.doubts.push(Doubt::HowMany(
                    "may be the count of one set or of all".into(),
                )),
                Some(_) => {}
            }
        }
    }
}

/// `bolt, nut and washer set 1/2 x 3`: a length at the end is the bolt's.
fn lend_size(drafts: &mut [Draft<'_>], at: usize) {
    let Some((first, rest)) = drafts.get_mut(at..).and_then(<[_]>::split_first_mut) else {
        return;
    };
    let long = |noun: Option<Noun>| noun.is_some_and(Noun::is_long);
    if !long(first.traits.noun) || !first.dims.is_empty() {
        return;
    }
    let Some(last) = rest.last_mut() else { return };
    if !long(last.traits.noun) && last.dims.len() > 1 && !last.dims.has_outside() {
        first.dims = std::mem::take(&mut last.dims);
    }
}

/// Gives what the last item's grade and finish are to those of the joint that have none.
fn share_finish(callouts: &mut [Callout]) {
    let Some((last, others)) = callouts.split_last_mut() else {
        return;
    };
    for other in others.iter_mut().map(|other| &mut other.item) {
        if other.grade.is_none() && other.finish.is_none() && other.kind != Some(Kind::Part) {
            (other.grade, other.finish) = (last.item.grade, last.item.finish);
        }
    }
    last.doubts.push(Doubt::Said(
        "its grade or finish is taken for the whole joint".into(),
    ));
}

/// The pieces of one joint share a diameter (common practice, no source): those without one take
/// the first that is stated, nuts its thread as well. No bolt has that of another behind it, and no screw has a nut's.
fn share_size(callouts: &mut [Callout]) {
    let joins = |item: &Item| {
        matches!(
            item.kind,
            Some(Kind::Bolt | Kind::Screw | Kind::Nut | Kind::Washer | Kind::Rod | Kind::Anchor)
        )
    };
    let is_put_on = |item: &Item| matches!(item.kind, Some(Kind::Nut | Kind::Washer));
    let sizes = callouts.iter().map(|callout| &callout.item);
    let sizes = sizes.filter(|item| joins(item));
    let sizes = sizes.filter_map(|item| Some((item.diameter?, item.thread, is_put_on(item))));
    let first = sizes.clone().next();
    let of_others = sizes.clone().find(|(.., is_put_on)| *is_put_on);
    for callout in callouts.iter_mut().filter(|of| joins(&of.item)) {
        let lent = match callout.item.kind {
            _ if callout.item.diameter.is_some() => continue,
            Some(Kind::Screw) => None,
            _ if is_put_on(&callout.item) => first,
            _ => of_others,
        };
        if let Some((diameter, thread, _)) = lent {
            callout.item.diameter = Some(diameter);
            callout.lent_size = true;
            if callout.item.kind == Some(Kind::Nut) {
                callout.item.thread = thread;
            }
        }
    }
}

/// What goes on a bolt has its size (common practice, no source), so a nut or a washer of another that
/// is named behind it is a doubt.
fn doubt_misfits(callouts: &mut [Callout]) {
    let Some((first, others)) = callouts.split_first_mut() else {
        return;
    };
    let (Some(bolt), true) = (
        first.item.diameter,
        first.item.kind.is_some_and(Kind::is_long),
    ) else {
        return;
    };
    for other in others {
        let on_it = matches!(other.item.kind, Some(Kind::Nut | Kind::Washer));
        if let (true, Some(size)) = (on_it, other.item.diameter)
            && size != bolt
        {
            other.doubts.push(Doubt::Said(
                format!("named with a bolt of {bolt}, and of another size: {size}").into(),
            ));
        }
    }
}
/// A bare decimal that is the hole of a metric washer is in millimetres: `washer 8.4`.
fn in_millimetres(hole: Diameter) -> Diameter {
    match hole {
        Diameter::Inch(of) if !of.is_integer() => Diameter::Metric(of),
        hole => hole,
    }
}
