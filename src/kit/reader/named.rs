//! What a line of text names, and how many.

use std::sync::LazyLock;

use regex::Regex;

use super::{
    super::{guide::is_prose, remark, role::Role},
    Reader,
    begin::is_year,
    beside::{self, Mark, are_several, behind_sign, count_behind, is_code, pieces_behind},
    habit::Habit,
    unheard::{FEW, is_chore, is_short},
};
use crate::{
    Doubt,
    columns::furniture,
    hardware::Kind,
    notation::{Callout, Quantity, Unread, describe, figures, names_part},
    words::pattern,
};

impl Reader<'_> {
    /// What a line of text names. `None` for a sentence without hardware and without a count, a title
    /// or a page's foot; what begins with a figure (`2 gal. wood stain`) is a line.
    pub(super) fn named_in(&self, text: &str, body: &str) -> Option<Result<Vec<Callout>, Unread>> {
        let begins_with_figure = body.starts_with(|c: char| c.is_ascii_digit());
        let noted = furniture::is_note(body) && !begins_with_figure;
        let heads = self.list.lines.is_empty() && furniture::names_list(body);
        if furniture::is_total(body) || noted || heads || furniture::is_paper(body) {
            return None;
        }
        if furniture::is_of_others(body) {
            return Some(Err(Unread::of_others()));
        }
        if is_time(body) || is_dated(body) {
            return None;
        }
        if furniture::counts_turns(body) {
            return Some(Err(Unread::NoItem(OF_TURNS.into())));
        }
        let closed = body.trim_end_matches(['.', '!']);
        if let Some(words) = refers(closed).filter(|_| self.begun && is_short(closed, FEW)) {
            let why = format!("it refers to what stands elsewhere (\"{words}\"): write it out");
            return Some(Err(Unread::NoItem(why.into())));
        }
        if let Some(counted) = self
            .counted_by_habit(body)
            .or_else(|| self.counted_thrice(body))
            .or_else(|| self.counted_by_word(body))
        {
            return Some(Ok(counted));
        }
        let mut callouts = describe(body, self.notation);
        if let Ok(all) = &mut callouts {
            self.count_no_size(body, all);
        }
        if let Ok(all) = &mut callouts {
            self.trust_sign(body, all);
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
        let (counted_by, note) = without_note(body);
        if let Some((words, count)) = count_behind(counted_by, self.notation)
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
                let counts = self.usual.bare_counts
                    && matches!(self.list.role, Role::Shipped | Role::Counted);
                if !(counts || are_several(words)) || is_year(count) {
                    only.doubts.push(Doubt::HowMany(
                        "a number behind plain words: it may be no count".into(),
                    ));
                }
                if !note.is_empty() && remark::may_change(note, self.list.role) {
                    only.doubts.push(Doubt::Remark(note.into()));
                }
            }
            return Some(callouts);
        }
        is_line.then_some(callouts)
    }

    /// A line among those of a list that says how many in no number, of what nobody knows: `door hinges - a
    /// pair or two`.
    pub(super) fn untold(&self, body: &str) -> Option<Result<Vec<Callout>, Unread>> {
        let is_line = self.begun
            && !is_prose(body)
            && !furniture::is_note(body)
            && !furniture::is_total(body)
            && !furniture::is_paper(body);
        if let Some(words) = none_of(body).filter(|_| is_line && self.list.role == Role::Counted) {
            let why = format!("it says that there are none: write \"{words} 0\"");
            return Some(Err(Unread::NoItem(why.into())));
        }
        let words = remark::untold(body).filter(|_| is_line)?;
        Some(Err(Unread::NoItem(
            format!("how many is said in no number (\"{words}\")").into(),
        )))
    }

    /// Takes the count behind the sign that several lines have there for all that counts: `rails 2440 - 4`.
    fn trust_sign(&self, body: &str, callouts: &mut [Callout]) {
        let counted = self
            .usual
            .count_sign
            .and_then(|sign| behind_sign(body, sign));
        if let ([only], Some(pieces)) = (callouts, counted)
            && !only.is_hardware()
            && only
                .quantity
                .is_some_and(|quantity| quantity.pieces == pieces)
        {
            only.doubts
                .retain(|doubt| !matches!(doubt, Doubt::MayBeCount(_)));
        }
    }

    /// A part, and behind it how many of it in a word for such pieces: `glass 610x610 40 sheets`.
    fn counted_by_word(&self, body: &str) -> Option<Vec<Callout>> {
        let (words, pieces) = pieces_behind(body)?;
        let mut callouts = describe(words, self.notation).ok()?;
        let [only] = callouts.as_mut_slice() else {
            return None;
        };
        (!only.is_hardware() && only.quantity.is_none()).then_some(())?;
        only.quantity = Some(Quantity {
            pieces,
            packs: None,
        });
        Some(callouts)
    }

    /// A count by its `x`, and a diameter and a length that one word joins: `48x 5x60 screw` (common practice,
    /// no source).
    fn counted_thrice(&self, body: &str) -> Option<Vec<Callout>> {
        let (pieces, mark, rest) = beside::before(body)?;
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
        let times = || beside::times_behind(body).filter(|_| mark == Some(Mark::Times));
        let (words, pieces, sized) = match habit {
            Some(Habit::Before) => {
                let (pieces, of, rest) = beside::before(body)?;
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

    /// Takes a whole number behind a fastener's name for how many where no such piece is as thick (`T nuts 36`), or
    /// where a slip or a count names several and says no other figure: `washers 12`.
    fn count_no_size(&self, body: &str, callouts: &mut Vec<Callout>) {
        let [only] = callouts.as_slice() else { return };
        let Some((words, pieces)) = count_behind(body, self.notation) else {
            return;
        };
        let is_odd = |doubt: &Doubt| matches!(doubt, Doubt::OddDiameter(_));
        let counts = matches!(self.list.role, Role::Shipped | Role::Counted) && are_several(words);
        if only.quantity.is_some() || !(counts || only.doubts.iter().any(is_odd)) {
            return;
        }
        // Among words that are not known it may be anything, unless the other lines are written so.
        let strange = |doubt: &Doubt| matches!(doubt, Doubt::UnknownWords(_) | Doubt::LeftOver(_));
        if !self.usual.bare_counts && only.doubts.iter().any(strange) {
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
}

/// Why a line that counts what is done is put aside.
const OF_TURNS: &str = "it says how often something is done, and names no pieces";

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

/// A line whose count stands behind, and a note without figures in brackets at its end: `roof panels 4 (pads)`.
fn without_note(body: &str) -> (&str, &str) {
    let noted = || {
        let (line, note) = body.strip_suffix(')')?.rsplit_once(" (")?;
        let figures = |c: char| c.is_ascii_digit();
        (line.ends_with(figures) && !note.contains(figures)).then_some((line, note))
    };
    noted().unwrap_or((body, ""))
}

/// The pieces of which a line says that none is there: `no latches`, and not `no more`, `no parts missing`.
fn none_of(body: &str) -> Option<&str> {
    const OTHER: &[&str] = &[
        "damage",
        "damages",
        "missing",
        "more",
        "problems",
        "issues",
        "shortages",
        "losses",
    ];
    let (no, words) = body.split_once(' ')?;
    let mut all = words.split(' ');
    let named = are_several(words)
        && words
            .chars()
            .all(|c| c.is_alphabetic() || matches!(c, ' ' | '-'))
        && all.clone().count() <= 3
        && all.all(|word| !OTHER.contains(&word.to_lowercase().as_str()));
    (no.eq_ignore_ascii_case("no") && named).then_some(words)
}

/// True where the only figures of a line are those of a date behind words: `Nuts and bolts, 4 May 2026`.
pub(super) fn is_dated(text: &str) -> bool {
    let figures = |text: &str| text.contains(|c: char| c.is_ascii_digit());
    furniture::date_in(text).is_some_and(|date| {
        let before = &text[..date.start];
        before.contains(char::is_alphabetic) && !figures(before) && !figures(&text[date.end..])
    })
}

/// True where the only figures of a line are those of a time of day: `Count of bay 3, 14:30` has another.
fn is_time(text: &str) -> bool {
    static TIME: LazyLock<Regex> = LazyLock::new(|| pattern(r"\b(?:[01]?\d|2[0-3])[:.h][0-5]\d\b"));
    TIME.find(text).is_some_and(|time| {
        let rest = [&text[..time.start()], &text[time.end()..]];
        rest.iter()
            .all(|rest| !rest.contains(|c: char| c.is_ascii_digit()))
            && (time.as_str().contains(':') && rest[0].contains(char::is_alphabetic))
    })
}

/// The words by which a line without a size is that of another place: `Bay 2 same as bay 1`, `as bag D`.
pub(super) fn refers(text: &str) -> Option<&str> {
    static ELSEWHERE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)(?:\b(?:same|as)|^\W*(?:see|repeat))\s+(?:as|in|for|on)?\s*(?:(?:in|for|on)\s+)?(?:the\s+)?(?:bag|bay|box|carton|stage|step|side|panel|frame|set|kit)\s+(?:\d+|[a-z])$",
        )
    });
    let found = ELSEWHERE.find(text)?.as_str();
    (!furniture::holds_size(text)).then_some(found)
}
