//! A sentence of an assembly guide: the hardware that it calls for, how often, and what it says of
//! the joint.
//!
//! A callout is a noun of the trade with the size, the grade and the count around it; each is read
//! by the rules for a list's line. The rest of the sentence is looked through for what multiplies,
//! for torque, and for numbers that name something (`step 3`). What multiplies is taken only where
//! its number is stated; everything else that bears on a count is a doubt.

mod before;
mod beginnings;
mod call;
mod calls;
mod clause;
mod counted;
mod each_piece;
mod elided;
mod hedges;
mod joint;
mod left_over;
mod listed;
mod multiplier;
mod named;
mod object;
mod parts;
mod phrase;
mod places;
mod repetition;
mod rule;
mod said;
mod scope;
mod section;
mod sets;
mod setting;
mod settle;
mod shares;
mod sides;
mod sums;
mod there;
mod things;
mod told;
mod torques;
mod understood;
mod verbs;
mod vocabulary;
mod wording;
mod words;

use std::ops::Range;

pub use self::{
    before::{Before, Bolts},
    call::{Call, Naming},
    joint::lend,
    repetition::{Again, again, is_likened, makes_several, more_of_it},
    said::pieces,
    setting::{OptionNamed, condition, option},
    told::Told,
};
use self::{
    calls::calls,
    clause::Clauses,
    counted::{bare_eaches, behind, goes_to, multipliers},
    elided::Places,
    hedges::PerBolt,
    joint::{join, named_again, one_to_each, sized_behind},
    multiplier::Multiplier,
    named::mask_names,
    places::{multiply, one_in_each_hole},
    repetition::{ONCE_MORE, REPEAT, REPEATS_STAGE, is_repetition, repeats},
    rule::Rule,
    section::{part_laid, sections},
    sets::{each_of_list, one_in_each_set, sets},
    settle::{
        at_named, each_of, each_of_told, each_sized, go_on, of_subject, open_by_last, open_by_next,
        settle_by, settle_named,
    },
    sides::{either, opposites, sides_in_brackets, two_places},
    sums::{IN_ALL, total_of_pieces},
    there::pieces_for_known,
    told::told,
    torques::torques,
    understood::not_understood,
    vocabulary::{ORDINALS, PLACING},
    wording::{NUMBER, ends_with_word, mask, number, singular},
    words::Words,
};
use super::{
    callout::Notation,
    reader::Reader,
    spoken::in_figures,
    token::{blanked_tokens, tokens},
};
use crate::{doubt::Doubt, words::pattern};

/// What a sentence says.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Sentence {
    /// With its dictated numbers in figures.
    pub text: String,
    pub calls: Vec<Call>,
    /// How often the call is needed that is needed most often, or where there is none, what stands below.
    pub places: u32,
    /// Torques as written, with where they stand.
    pub torques: Vec<(usize, String)>,
    /// More of it may say how tight.
    pub torque_doubt: Option<Doubt>,
    /// The sentence repeats what was called for before, so many times.
    pub repeat: Option<u32>,
    /// The stage or step that it repeats, as written, where it names one: `3`, `1 to 3`.
    pub repeats_stage: Option<String>,
    /// The stage or step that its hardware is for, where it names one: `set aside for step 9`.
    pub for_stage: Option<String>,
    /// The one place that it names: `north post`.
    pub place: Option<String>,
    pub option: Option<OptionNamed>,
    /// The things that it tells apart by their names: `posts 3 and 4`.
    pub named: Option<Told>,
    /// Its items go on each of the bolts of the joint before.
    pub on_bolts: bool,
    /// The count of its item is what each place takes: `bolts, two per pile`.
    pub(super) shares: bool,
    /// What its item comes to at all places, where it says so behind the count: `so four in all`.
    pub(super) in_all: Option<u64>,
    /// Doubts of all its calls.
    pub doubts: Vec<Doubt>,
    /// Counts that stand apart from their item, in [`Sentence::text`]: `screws, 14 in all`.
    pub counts: Vec<Range<usize>>,
    /// Where it tells how many there are of a thing that it asks for, in [`Sentence::text`].
    pub told: Vec<Range<usize>>,
    /// Figures that measure, count or name something else, in [`Sentence::text`].
    pub measures: Vec<Range<usize>>,
    /// Figures that no reading took; a doubt tells each.
    pub left_over: Vec<Range<usize>>,
    /// What it asks for and names no item for, where its items are all there already: a size, a count.
    pub unread: Option<&'static str>,
    /// A word that says what becomes of its items and is none that is known, in [`Sentence::text`].
    pub not_understood: Option<Range<usize>>,
    /// Longer than any sentence: it was not read.
    pub too_long: bool,
}

/// Bytes of the longest text that is read as a sentence; those of guides have a tenth of it.
const LONGEST: usize = 4000;

/// Words by which what follows, up to a stop, is said to be left out.
static LEFT_OUT: Rule = Rule::new("not|don|never|leave|omit|instead|rather|place", "", || {
    pattern(
        r"(?ix) \b (?: (?: do \s not | don['’]t | never | must \s not | should \s not ) \s (?: use | fit | put | install | add | insert ) \b [^;.]*
            | (?: leave \s out | omit ) \b [^;.]*
            | (?: instead \s of | rather \s than | in \s place \s of ) \b [^,;.]* )",
    )
});

/// Words that say nothing of an item and would cut its phrase.
static PASSED: Rule = Rule::new(
    "new|supplied|more|additional|further|matching|loose|extra|spare|optional|second|third|single|sturdy|short|long|total",
    "",
    || {
        pattern(&format!(
            r"(?i)\b(?:new|supplied|more|additional|further|matching|loose|extra|spare|optional|second|third|single|sturdy|(?:a\s)?total\sof|(?P<length>short|long)\s(?:bolts?|screws?)\s?[(,]\s?[M#]?\d|(?:an?|the|one|{NUMBER})\s(?P<sort>short|long)\s[M#]?\d+)\b",
        ))
    },
);

/// `with the remaining bolts`, `use the rest of the hardware`: how many that is, is not said.
static THE_REST: Rule = Rule::new("remaining|rest", "", || {
    pattern(
        r"(?ix) \b (?: with | using | use | fit | insert | install | put | add | drive )
            \s+ (?: (?: in | up ) \s+ )? (?: all \s+ )? (?: the \s+ )? (?: remaining | rest \s+ of \s+ the )
            (?: \s+ [\w/-]+ ){0,3}? \s+ (?: hardware | fasteners? | fixings? | fittings? | bolts? | screws? | nuts? | washers? | anchors? | pins? | ones ) \b",
    )
});

/// Hardware of which neither size nor count is said: `with the hardware supplied`, `half of the M6 x 20
/// screws`, `a set of fixings`, `Nuts again.`
static VAGUE: Rule = Rule::new(
    "supplied|provided|included|enclosed|half|set|again|bag|box|pack|packet|carton",
    "",
    || {
        let hardware = "(?:hardware|fasteners?|fixings?|fittings?|bolts?|screws?|nuts?|washers?|anchors?|pins?)";
        pattern(&format!(
            r"(?ix) \b (?: with | using | use ) \s+ (?: all \s+ )? (?: the \s+ )? (?: [\w/-]+ \s+ ){{0,3}}? {hardware}
            \s+ (?: (?: that \s+ (?: is | are ) \s+ )? (?: supplied | provided | included | enclosed )
                | (?: from | in | out \s of ) \s+ (?: the \s+ )? (?: bag | box | pack | packet | carton ) ) \b
          | \b half \s+ (?: of \s+ )? (?: the | these | those ) (?: \s+ [\w/-]+ ){{0,6}}? \s+ {hardware} \b
          | \b (?: an? | one | another ) \s+ set \s+ of \s+ {hardware} \b
          | ^ \W* (?: the \s+ )? {hardware} \s+ again \W* $"
        ))
    },
);

/// What is said of hardware that nothing more is said of.
pub const NO_MORE_SAID: &str = "hardware of which neither count nor size is said";

/// What a bag holds is for here.
const USES_THEM: &[&str] = &["Use them", "use them", "Fit them", "fit them"];

/// Words that end like a plural in `as does the right`.
const IS_OF_ONE: &[&str] = &["as", "does", "is", "has"];

/// `Double up at the gate.`
static DOUBLES: Rule = Rule::new("double", "", || pattern(r"(?i)\bdouble up\b"));

/// `at each corner (there are four)`: how many places.
static THERE_ARE: Rule = Rule::new("there|such", "", || {
    pattern(&format!(
        r"(?i)\bthere are (?P<n>{NUMBER})(?: of (?:them|these|those))?\s*(?:[).,;]|$)|\b(?:there are )?(?P<such>{NUMBER}) such (?P<noun>[a-z]+)"
    ))
});

/// Reads one sentence by itself.
pub fn sentence(written: &str, notation: Notation) -> Sentence {
    sentence_after(&Before::default(), written, notation)
}

/// Reads one sentence. `before`: what the sentences before it in its stage have counted.
pub fn sentence_after(before: &Before, written: &str, notation: Notation) -> Sentence {
    if written.len() > LONGEST {
        return Sentence {
            text: written.to_owned(),
            places: 1,
            too_long: true,
            ..Sentence::default()
        };
    }
    let mut cut = tokens(written, notation);
    let text = match in_figures(written, &cut) {
        Some(text) => {
            cut = tokens(&text, notation);
            text
        }
        None => written.to_owned(),
    };
    let mut said = Sentence {
        places: 1,
        ..Sentence::default()
    };
    let words = Words::of(&text);
    let clauses = Clauses::of(&words, &text);
    let mut eaches = bare_eaches(&words, &text);
    let bare_each = eaches.first().copied();
    let mut masked = text.clone();
    (said.torques, said.torque_doubt) = torques(&words, &text, &mut masked);
    said.place = setting::place(&words, &masked);
    if let Some((option, at)) = setting::option_at(&words, &masked) {
        said.option = Some(option);
        mask(&mut masked, at, true);
    }
    said.repeats_stage = REPEATS_STAGE
        .captures(&words, &text)
        .and_then(|found| found.name("stage").or(found.name("step")))
        .map(|stage| stage.as_str().to_owned());
    let named = mask_names(&words, &text, &mut masked, &mut said.for_stage);
    each_of_list(&words, &text, &mut masked);
    let sets = sets(&words, &text, &mut masked);
    let sections = sections(&cut, &text);
    for at in &sections {
        mask(&mut masked, at.clone(), false);
    }
    if is_repetition(&words, &masked) || said.repeats_stage.is_some() {
        let named = named.as_ref().filter(|_| said.repeats_stage.is_none());
        said.repeat = Some(repeats(&masked, named.map(|named| named.number)));
    }
    let sides = sides_in_brackets(&words, &mut masked);
    let per_bolt = hedges::per_bolt(&words, &text, |at| mask(&mut masked, at, true));
    let either =
        either(&words, &mut masked).or_else(|| opposites(&words, &mut masked, bare_each.is_some()));
    // `It holds 12 bolts. Use them to fix the strips.`
    let next = before.next.as_ref().map_or("", |(_, next)| next);
    let uses = |text: &str| USES_THEM.iter().any(|uses| text.contains(uses));
    let all_used = || uses(&text) || uses(next);
    // `Discard the screws. Put in four bolts instead.`
    let last = before.sentence.as_ref().map_or("", |(_, last)| last);
    let done_away = || {
        ["emove", "iscard", "hrow"]
            .iter()
            .any(|away| last.contains(away))
    };
    // Not `every second rafter`, which are half of them.
    let passed: Vec<_> = PASSED
        .captures_iter(&words, &masked)
        .filter(|found| {
            let at = found.get(0).map_or(0, |found| found.start());
            !ends_with_word(masked[..at].trim_end(), "every")
        })
        // Not `a second at the bottom`, which is one more.
        .filter(|found| {
            let end = found.get(0).map_or(0, |found| found.end());
            let next = masked[end..].trim_start().split(' ').next();
            let placed = next.is_some_and(|next| PLACING.contains(&next) || next == "from");
            !(placed && ORDINALS.contains(&&found[0]))
        })
        .filter_map(|found| {
            let sort = found.name("length").or(found.name("sort"));
            Some(sort.or(found.get(0))?.range())
        })
        .collect();
    for at in &passed {
        mask(&mut masked, at.clone(), false);
    }
    let (mut multipliers, each_piece) = multipliers(&words, &mut masked, &eaches);
    for of in multipliers.iter_mut().filter(|m| m.words.contains("  ")) {
        of.words = text[of.at..of.at + of.words.len()].to_owned();
    }
    // `a nut onto each of the eight rods, a washer to each`: of those, which multiply all that goes on them.
    let each_at = eaches.clone();
    let per_bolt = match each_piece.is_empty() {
        true => per_bolt,
        false => {
            eaches.clear();
            per_bolt.into_iter().filter(PerBolt::is_of_places).collect()
        }
    };
    let bare_each = eaches.first().copied();
    // `both ends, with one bolt at either end`
    let again = |one: &Multiplier| {
        let same = |m: &Multiplier| m.times.is_some() && singular(&m.noun) == singular(&one.noun);
        one.words.starts_with("either") && multipliers.iter().any(same)
    };
    let either = either.filter(|one| !again(one));
    multipliers.extend(either);
    if let Some(at) = sides {
        match multipliers.iter_mut().rfind(|m| m.at < at.start) {
            Some(of) => of.times = of.times.or(Some(2)),
            // `with two bolts (left and right)`
            None => said.doubts.push(Doubt::HowMany(
                format!(
                    "\"{}\": the pieces may be for each or in all; taken as in all",
                    &text[at]
                )
                .into(),
            )),
        }
    }
    let in_sets = sets.is_some();
    multipliers.extend(sets);
    let multiplied: Vec<usize> = multipliers.iter().map(|m| m.at).collect();
    let mut there_are = None;
    if let Some(found) = THERE_ARE.captures(&words, &masked) {
        let whole = found.get(0).map_or(0..0, |found| found.range());
        there_are = found.name("n").and_then(|n| number(n.as_str()));
        // `there are six such joints`
        multipliers.extend(found.name("such").map(|n| Multiplier {
            at: whole.start,
            words: text[whole.clone()].to_owned(),
            noun: found["noun"].to_ascii_lowercase(),
            times: number(n.as_str()),
            ..Multiplier::default()
        }));
        mask(&mut masked, whole, true);
    }
    let asks = |m: &Multiplier| m.times.is_none();
    let may_be_told = |m: &Multiplier| m.may_be_told(&text);
    let in_all = IN_ALL.may_find(&words) && !multipliers.is_empty();
    let mut here = match bare_each.is_some() || in_all || multipliers.iter().any(may_be_told) {
        true => told(&text, before.row),
        false => Vec::new(),
    };
    for told in &here {
        let is_asked = |m: &Multiplier| asks(m) && m.asks_for(told, &text);
        let apart = told.is_apart() && bare_each.is_some();
        if multipliers.iter().any(is_asked) || apart || (told.is_of_all() && in_all) {
            let at = told.at..told.at + told.words.len();
            mask(&mut masked, at.clone(), true);
            said.told.push(at);
        }
    }
    let reader = Reader::of(
        blanked_tokens(&cut, &text, &masked, notation),
        &masked,
        notation,
    );
    let places = Places {
        multiplied: &multiplied,
        eaches: &eaches,
    };
    let mut things = calls(reader, &text, places, &mut said);
    let sized = sections.iter().filter_map(|at| part_laid(&text, at));
    said.doubts.extend(sized);
    said.measures.extend(sections);
    // `nuts (6 each)`
    let is_count = |each: &usize| said.counts.iter().any(|count| count.end + 1 == *each);
    eaches.retain(|each| !is_count(each));
    let bare_each = eaches.first().copied();
    if in_sets {
        one_in_each_set(&mut said.calls, &text);
    }
    let in_holes = one_in_each_hole(&mut said.calls, &mut multipliers);
    let fills_holes = in_holes.is_some();
    said.doubts.extend(in_holes);
    // `Through the four holes pass four bolts with two washers each`: a bolt a hole.
    let long = said.calls.iter().find(|call| call.is_long());
    let bolts = long.map_or(0, Call::pieces);
    let is_filled = |m: &Multiplier| {
        let hole = ["hole", "slot"].contains(&singular(&m.noun));
        let each = m.words.to_ascii_lowercase().starts_with("each");
        hole && !each && m.times.is_some_and(|times| u64::from(times) == bolts)
    };
    multipliers.retain(|m| !is_filled(m));
    if VAGUE.is_match(&words, &text) {
        said.unread = said.unread.or(Some(NO_MORE_SAID));
    }
    if DOUBLES.is_match(&words, &text) {
        said.unread = (said.unread).or(Some("more of what was called for: list them"));
    }
    if THE_REST.is_match(&words, &text) {
        said.unread = Some("what is left of the hardware: how many that is, is not said");
    }
    let last = said.calls.last().map_or(usize::MAX, |call| call.at.end);
    let once_more = (ONCE_MORE.captures_iter(&words, &text))
        .find(|found| found.get(0).is_some_and(|at| at.start() >= last));
    if let Some(found) = once_more {
        let (at, said_once) = (found.get(0).map_or(0..0, |at| at.range()), &found[0]);
        let said_once = said_once.trim_matches([',', ';', ' ', '.']);
        (said.repeat, said.place) = (None, None);
        let one = said_once
            .split(' ')
            .all(|word| singular(word) == word || IS_OF_ONE.contains(&word));
        let sure = one && found.name("sure").is_some();
        multipliers.push(Multiplier {
            at: at.start,
            words: said_once.to_owned(),
            noun: String::new(),
            times: Some(2),
            taken: (!sure).then(|| format!("\"{said_once}\": taken as once more")),
            of_all: true,
            ..Multiplier::default()
        });
        mask(&mut masked, at, true);
    }
    // `The other gusset gets the same: three bolts, three nuts.`
    let first = said.calls.first().map_or(usize::MAX, |call| call.at.start);
    let lists = |found: regex::Match<'_>| {
        text.get(found.end()..first)
            .is_some_and(|between| between.contains(':'))
    };
    if said.repeats_stage.is_none() && REPEAT.find_iter(&words, &text).any(lists) {
        said.repeat = None;
    }
    here.retain(|told| !total_of_pieces(told, &mut said, &mut multipliers, &text));
    for (behind, placed) in said.calls.iter().filter_map(|call| behind(call, &text)) {
        if here.is_empty() {
            here = told(&text, before.row);
        }
        // `to a panel` is one of them where they are counted, else the one that it is about.
        let of_two = ["end", "side"].contains(&&*behind.noun);
        if !placed || of_two || before.answer(&here, &behind.noun).is_some() {
            multipliers.push(behind);
        }
    }
    // `at each end of the tread, six treads in all`
    let of_ends = |m: &Multiplier| ["end", "side", "edge"].contains(&&*m.noun);
    if let ([told], [call]) = (&*here, &*said.calls)
        && !fills_holes
        && (multipliers.is_empty() || (told.is_of_all() && multipliers.iter().all(of_ends)))
        && (told.is_apart() || told.is_of_all() || (things.is_empty() && told.at < call.at.start))
    {
        multipliers.push(Multiplier::by(told));
    }
    // `The columns (4 pieces) are fixed with two bolts and two nuts each.`
    if let ([told], Some(each), [first, .., last]) = (&*here, bare_each, &*said.calls)
        && multipliers.is_empty()
        && told.is_apart()
        && told.at < first.at.start
        && each > last.at.start
    {
        let taken = format!("\"each\": taken for \"{}\"", told.words);
        multipliers.push(Multiplier {
            taken: Some(taken),
            ..Multiplier::by(told)
        });
    }
    // `Fix the sill and the header with six screws each`
    let in_row = bare_each
        .filter(|_| multipliers.is_empty() && things.is_empty() && named.is_none())
        .and_then(|each| listed::each_in_a_row(&text, each));
    let is_in_row = in_row.is_some();
    multipliers.extend(in_row);
    said.named = named.as_ref().and_then(|named| {
        let words = &text[named.at.clone()];
        Told::named(&named.noun, named.number, words, before.row)
    });
    for multiplier in &mut multipliers {
        settle_named(multiplier, named.as_ref());
    }
    if there_are.is_some()
        && let Some(open) = multipliers.iter_mut().find(|m| m.times.is_none())
    {
        open.times = there_are;
    }
    let each_sized = each_sized(&mut said.calls, &text, before.bolts);
    let bolts = before.bolts.filter(|bolts| go_on(&said.calls, *bolts));
    said.on_bolts = settle_by(before, &here, &text, bolts, &mut multipliers, &mut things);
    said.on_bolts |= each_sized.as_ref().is_some_and(|each| each.times.is_some());
    multipliers.extend(each_sized);
    if let (Some(at), Some(bolts), [], []) = (bare_each, bolts, &*multipliers, &*things) {
        multipliers.push(each_of(bolts, at));
        said.on_bolts = true;
    }
    if multipliers.is_empty() && things.is_empty() {
        let alone = said.calls.len() == 1;
        let told = bare_each.filter(|&each| {
            let mut calls = said.calls.iter();
            alone
                || calls.clone().all(|call| each < call.at.start)
                || (goes_to(&text, each) && calls.all(|call| call.at.end < each))
        });
        let of = match told.filter(|_| here.is_empty()) {
            Some(each) => each_of_told(before, each),
            None if bare_each.is_none() => of_subject(before, &text),
            None => None,
        };
        multipliers.extend(of);
        if multipliers.is_empty() && said.calls.iter().any(Call::is_asked_for) {
            let open = open_by_next(before, &text);
            let open = open.or_else(|| open_by_last(before, &text, &said.calls));
            said.doubts.extend(open);
        }
    }
    let settled = named.as_ref().is_some_and(|named| {
        multipliers
            .iter()
            .any(|m| m.times.is_some() && singular(&m.noun) == singular(&named.noun))
    }) || (named.is_some() && bare_each.is_some());
    // What is passed over beside an item may bear on its count elsewhere.
    for at in passed {
        if masked[at.clone()].trim().is_empty() {
            masked.replace_range(at.clone(), &text[at]);
        }
    }
    let counted = |at: usize| {
        let call = said.calls.iter().any(|call| call.at.contains(&at));
        // `four more on the other side`, `2 of each`
        let is_of = |count: &Range<usize>| {
            count.contains(&at) || [1, 4].contains(&at.wrapping_sub(count.end))
        };
        let multiplies = |m: &Multiplier| (m.at..m.at + m.words.len()).contains(&at);
        call || each_at.contains(&at)
            || said.counts.iter().any(is_of)
            || multipliers.iter().any(multiplies)
    };
    let bears_on = scope::bears_on(&words, &masked, |at| clauses.works_at(at, &text), counted)
        .filter(|word| !(word.starts_with("holds ") && all_used()))
        .filter(|word| !(*word == "instead" && done_away()))
        .map(str::to_owned);
    if let Some(word) = bears_on
        && said.repeat.is_none()
        && !said.calls.is_empty()
    {
        said.doubts.push(Doubt::HowMany(
            format!("\"{word}\" bears on the count: see the sentence").into(),
        ));
    }
    // `Tighten the bolts, then add a nut.`
    let worked_on = clauses.work_ends().unwrap_or_default();
    for call in &mut said.calls {
        if call.at.start < worked_on {
            call.naming = Naming::Known;
        }
    }
    if let (Some(named), None) = (&named, said.repeat)
        && !said.calls.is_empty()
        && multipliers
            .iter()
            .all(|m| singular(&m.noun) != singular(&named.noun))
    {
        let of_each = multipliers.iter().any(|m| {
            let between = text.get(m.at + m.words.len()..named.at.start);
            between.is_some_and(|between| between.trim() == "of")
        });
        let each = bare_each.is_some();
        multipliers.extend(at_named(named, &said.calls, &text, each, of_each));
    }
    if each_piece.is_empty() {
        pieces_for_known(&mut said, &text);
    }
    for left_out in LEFT_OUT.find_iter(&words, &masked) {
        for call in &mut said.calls {
            if left_out.range().contains(&call.at.start) {
                call.naming = Naming::Not;
            }
        }
    }
    named_again(&mut said);
    sized_behind(&mut said, &text);
    for of in per_bolt {
        match each_piece.is_empty() {
            true => of.multiply(&mut said, bolts, &text),
            false => of.multiply_one(&mut said),
        }
    }
    for of in each_piece {
        of.multiply(&mut said, &text, &clauses);
    }
    if said.calls.iter().any(Call::is_asked_for) {
        said.doubts
            .extend(hedges::hedges(&words, &text).filter(|_| !settled));
        said.doubts
            .extend(hedges::no_item(&words, &text, &said.calls));
        said.doubts.extend(
            eaches
                .first()
                .and_then(|&each| hedges::each_of_which(&words, &text, each, &multipliers)),
        );
        said.doubts.extend(
            two_places(&words, &masked, &said.calls)
                .filter(|_| !is_in_row && said.counts.is_empty()),
        );
    }
    multiply(
        &words,
        &mut said,
        multipliers,
        things,
        &text,
        &eaches,
        &clauses,
    );
    one_to_each(&mut said.calls, &text);
    if said.calls.iter().any(Call::is_asked_for) {
        said.not_understood = not_understood(&words, &text, &masked, &said.calls);
    }
    said.text = text;
    join(&mut said.calls);
    said
}
