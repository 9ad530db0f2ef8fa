//! The phrase of an item: the words around its noun that belong to it.

use super::vocabulary::{DISTANCES, LONG, PLACED, PUTS};
use crate::hardware::Unit;
use crate::notation::{
    number::Prefix,
    reader::Reader,
    spoken::ARTICLES,
    token::Tok,
    words::{Row, Sense},
};

/// The first token of the phrase of the item whose noun is at `i`.
pub(super) fn phrase_start(reader: &Reader<'_>, i: usize, from: usize) -> usize {
    let mut start = i;
    while start > from {
        let at = start - 1;
        // `twelve (12)`
        if matches!(reader.tok(at), Some(Tok::Close))
            && at >= from + 2
            && reader.whole(at - 1).is_some()
            && matches!(reader.tok(at - 2), Some(Tok::Open))
        {
            start = at - 2;
            continue;
        }
        if at > from && !describes(reader, at) && is_between(reader, at) {
            start = at;
            continue;
        }
        if !describes(reader, at) {
            break;
        }
        start = at;
        let dozen = reader
            .sense(at, |s| matches!(s, Sense::Per(n) if *n > 1).then_some(()))
            .is_some();
        if dozen {
            let more = at > from && (reader.says(at - 1, Sense::Noise) || counts(reader, at - 1));
            return if more { at - 1 } else { at };
        }
        if counts(reader, at) {
            // `four 3 8 by 2 bolts`, `two 1 5/8 x 6 bolts`
            let in_words = at > from && reader.word(at - 1).and_then(Row::count).is_some();
            start -= usize::from(in_words && reader.number(at).is_some());
            break;
        }
    }
    // Marks in front of the phrase belong to the sentence.
    while start < i && matches!(reader.tok(start), Some(Tok::Dash | Tok::Slash | Tok::Join)) {
        start += 1;
    }
    start
}

/// Behind the last token of the phrase of the item whose noun is at `i`.
pub(super) fn phrase_end(reader: &Reader<'_>, i: usize, masked: &str) -> usize {
    let mut end = i + 1;
    loop {
        let open = matches!(reader.tok(end), Some(Tok::Open));
        let comma = matches!(reader.tok(end), Some(Tok::Comma));
        let from = end + usize::from(open || comma);
        // `screws, qty 14`, `screws (qty. 14)`
        let figure = from + 1 + usize::from(matches!(reader.tok(from + 1), Some(Tok::Dot)));
        if reader.says(from, Sense::Qty) && reader.whole(figure).is_some() {
            let close = open && matches!(reader.tok(figure + 1), Some(Tok::Close));
            return figure + 1 + usize::from(close);
        }
        // `screws, 14 in all`
        let word = |at: usize| {
            let token = reader.tokens.get(at);
            token.map_or("", |token| &masked[token.start..token.end])
        };
        if word(from + 1) == "in" && ["all", "total", "number"].contains(&word(from + 2)) {
            return end;
        }
        let mut to = from;
        // `bolts (M10 x 120, four pieces)`
        let in_brackets = |to: usize| open && matches!(reader.tok(to), Some(Tok::Comma));
        while (describes(reader, to) && reader.noun(to).is_none() && (open || !counts(reader, to)))
            || in_brackets(to)
        {
            to += 1;
        }
        // `bolts (6x)`
        let closes = open && matches!(reader.tok(to), Some(Tok::Close));
        while to > from
            && !closes
            && matches!(
                reader.tok(to - 1),
                Some(Tok::Join | Tok::Dash | Tok::Slash | Tok::Dot)
            )
        {
            to -= 1;
        }
        if to == from || reader.noun(to).is_some() {
            return end;
        }
        let stop = usize::from(matches!(reader.tok(to), Some(Tok::Dot)));
        let next = reader.tokens.get(to + stop);
        let word = next.map_or("", |token| &masked[token.start..token.end]);
        if DISTANCES
            .iter()
            .any(|known| word.eq_ignore_ascii_case(known))
        {
            return end;
        }
        if open {
            if !matches!(reader.tok(to), Some(Tok::Close)) {
                return end;
            }
            end = to + 1;
            continue;
        }
        let stops = match reader.tok(to) {
            None | Some(Tok::Comma | Tok::Semicolon | Tok::Dot | Tok::Close | Tok::Open) => true,
            _ => reader.says(to, Sense::And),
        };
        if comma && !stops {
            return end;
        }
        end = to;
    }
}

/// What a token can be in the phrase of an item.
pub(super) fn describes(reader: &Reader<'_>, i: usize) -> bool {
    match reader.tok(i) {
        Some(Tok::Num { .. } | Tok::Join | Tok::Dash | Tok::Slash | Tok::Inch) => true,
        Some(Tok::Dot) => is_of_abbreviation(reader, i),
        // `a pair of 3/8 x 6 eye bolts`, `4 pcs of M10 x 60 hex bolts`
        Some(Tok::Word(row)) if row.senses.contains(&Sense::Of) => {
            let several = |s: &Sense| matches!(s, Sense::Per(1..)).then_some(());
            // `6 pcs. of M8 x 45 bolt`
            let stop = usize::from(i > 1 && matches!(reader.tok(i - 1), Some(Tok::Dot)));
            i > 0 && reader.sense(i - 1 - stop, several).is_some()
        }
        Some(Tok::Word(row)) => {
            let metal = |at: usize| {
                reader.tokens.get(at).is_some_and(|token| {
                    let word = &reader.text[token.start..token.end];
                    word == "-" || word.eq_ignore_ascii_case("metal")
                })
            };
            // `Insert 3/8 x 5 bolts (8).`
            if i == 0 && row.spelling == "insert" {
                return false;
            }
            // `a nut on all four bolts`
            if row.spelling == "all" && !metal(i + 1) {
                return false;
            }
            let behind_figure = i > 0 && reader.number(i - 1).is_some();
            // `4 ea 1/2 x 6 hex bolts`
            if row.spelling == "ea" && behind_figure {
                return true;
            }
            if matches!(
                row.spelling,
                "a" | "an" | "the" | "to" | "at" | "each" | "ea" | "assembly"
            ) {
                return false;
            }
            row.senses.iter().any(|sense| match sense {
                Sense::By => joins_sizes(reader, i),
                // `No. 10`; not `no bolt`.
                Sense::NumberWord => {
                    matches!(reader.tok(i + 1), Some(Tok::Dot)) || reader.number(i + 1).is_some()
                }
                Sense::Noun(_) => reader.noun(i).is_none(),
                Sense::Unit(_) | Sense::Metric(_) => {
                    (behind_figure && is_unit(reader, i))
                        || (i > 1 && matches!(reader.tok(i - 1), Some(Tok::Dash)))
                }
                Sense::Mark(_)
                | Sense::Grade(_)
                | Sense::GradeWord
                | Sense::Drive(_)
                | Sense::Point(_)
                | Sense::Series(_)
                | Sense::FullThread(_)
                | Sense::Count(_)
                | Sense::Per(_)
                | Sense::Measure(_)
                | Sense::Standard
                | Sense::TypeWord
                | Sense::Head
                | Sense::DriveWord
                | Sense::PointWord
                | Sense::Noise => true,
                _ => false,
            })
        }
        _ => false,
    }
}

/// The stop of `6 in.`, `No. 10`, `1/2 dia.`, `2 pcs.`, where the item goes on behind it.
pub(super) fn is_of_abbreviation(reader: &Reader<'_>, i: usize) -> bool {
    let abbreviated = |sense: &Sense| {
        matches!(
            sense,
            Sense::Unit(_)
                | Sense::Metric(_)
                | Sense::Foot
                | Sense::Measure(_)
                | Sense::NumberWord
                | Sense::GradeWord
                | Sense::Mark(_)
                | Sense::Per(_)
        )
        .then_some(())
    };
    let goes_on = matches!(
        reader.tok(i + 1),
        Some(Tok::Num { .. } | Tok::Join | Tok::Word(_) | Tok::Unknown)
    );
    i > 0 && !reader.spaced(i) && goes_on && reader.sense(i - 1, abbreviated).is_some()
}

/// `by` behind a figure: `3/8 by 4`, `3/8 in by 4`; not `held by two`.
pub(super) fn joins_sizes(reader: &Reader<'_>, i: usize) -> bool {
    let figure = |back: usize| {
        i.checked_sub(back)
            .is_some_and(|at| reader.number(at).is_some())
    };
    let unit = i.checked_sub(1).is_some_and(|at| {
        matches!(reader.tok(at), Some(Tok::Inch))
            || reader.says(at, Sense::Unit(Unit::Inch))
            || reader.says(at, Sense::Unit(Unit::Millimetre))
    });
    reader.says(i, Sense::By) && (figure(1) || (unit && figure(2)))
}

/// A unit, at a token: not the `in` of `two in the middle`.
pub(super) fn is_unit(reader: &Reader<'_>, at: usize) -> bool {
    let unit = |sense: &Sense| {
        matches!(sense, Sense::Unit(_) | Sense::Metric(_) | Sense::Foot).then_some(())
    };
    let is = |i: usize, known: &[&str]| {
        reader.tokens.get(i).is_some_and(|token| {
            let word = &reader.text[token.start..token.end];
            known.iter().any(|known| word.eq_ignore_ascii_case(known))
        })
    };
    // `M10 x 60 in each post`: what the diameter is in, the length is.
    let metric = |i: usize| matches!(reader.number(i), Some((_, _, Prefix::Metric)));
    let of_metric = at > 2 && matches!(reader.tok(at - 2), Some(Tok::Join)) && metric(at - 3);
    // `six in the west truss and six in east truss`
    let goes_on =
        |i: usize| matches!(reader.tok(i), Some(Tok::Comma)) || reader.says(i, Sense::And);
    let thing =
        |i: usize| matches!(reader.tok(i), Some(Tok::Unknown)) || reader.says(i, Sense::Thing);
    let more =
        at > 1 && goes_on(at - 2) && thing(at + 1) && !is(at + 1, DISTANCES) && !is(at + 1, LONG);
    // `and three in post 2`, whose name is read
    let counted = || at > 0 && reader.word(at - 1).and_then(Row::count).is_some();
    let apart = || at > 1 && goes_on(at - 2) && reader.spaced(at + 1);
    let named = || matches!(reader.tok(at + 1), Some(Tok::Semicolon)) && (counted() || apart());
    let places = is(at, &["in"]) && (is(at + 1, ARTICLES) || of_metric || more || named());
    matches!(reader.tok(at), Some(Tok::Inch | Tok::Foot))
        || (reader.sense(at, unit).is_some() && !places)
}

/// A figure or a word that counts pieces, at a token.
pub(super) fn counts(reader: &Reader<'_>, i: usize) -> bool {
    let (figure, word) = (reader.whole(i), reader.word(i).and_then(Row::count));
    if figure.is_none() && word.is_none() {
        return false;
    }
    let dot = i > 1 && matches!(reader.tok(i - 1), Some(Tok::Dot));
    let takes_figure = i > 0
        && (matches!(reader.tok(i - 1), Some(Tok::Join | Tok::Dash | Tok::Slash))
            || joins_sizes(reader, i - 1)
            || reader
                .sense(i - 1 - usize::from(dot), |sense| {
                    matches!(
                        sense,
                        Sense::GradeWord
                            | Sense::NumberWord
                            | Sense::Standard
                            | Sense::TypeWord
                            | Sense::Measure(_)
                    )
                    .then_some(())
                })
                .is_some());
    let measured = || {
        is_unit(reader, i + 1)
            || reader.says(i + 1, Sense::By)
            || matches!(reader.tok(i + 1), Some(Tok::Join | Tok::Dash | Tok::Slash))
    };
    !takes_figure && (word.is_some() || !measured())
}

/// A word between an item's size or count and its noun that is not known: `two 1/2 x 3 rail bolts`.
pub(super) fn is_between(reader: &Reader<'_>, i: usize) -> bool {
    let token = &reader.tokens[i];
    let word = &reader.text[token.start..token.end];
    let plain = matches!(reader.tok(i), Some(Tok::Unknown))
        || reader.says(i, Sense::Thing)
        || reader.says(i, Sense::Use);
    let adjective = plain
        && word.len() > 2
        && word.bytes().all(|b| b.is_ascii_lowercase())
        && !PLACED.contains(&word)
        && !PUTS.contains(&word);
    // `8 pcs. roof screws`
    let stop = usize::from(i > 1 && is_of_abbreviation(reader, i - 1));
    let mut before = i - 1 - stop;
    // `#9 x 1-1/2 structural connector screws`
    let unknown = |at: usize| {
        let token = &reader.tokens[at];
        let word = &reader.text[token.start..token.end];
        (matches!(token.tok, Tok::Unknown)
            || reader.says(at, Sense::Thing)
            || reader.says(at, Sense::Use))
            && word.bytes().all(|b| b.is_ascii_lowercase())
            && word.len() > 2
    };
    if before > 1 && stop == 0 && unknown(before) {
        before -= 1;
    }
    let pieces = |sense: &Sense| matches!(sense, Sense::Per(1)).then_some(());
    let pieces = reader.sense(before, pieces).is_some() && !reader.says(before, Sense::Each);
    let counted = counts(reader, before) || pieces;
    let sized = matches!(reader.tok(before), Some(Tok::Num { .. } | Tok::Inch))
        || reader
            .sense(before, |s| matches!(s, Sense::Unit(_)).then_some(()))
            .is_some();
    let article = {
        let token = &reader.tokens[before];
        let word = &reader.text[token.start..token.end];
        ["a", "an", "the", "these", "those", "any", "no"]
            .iter()
            .any(|a| word.eq_ignore_ascii_case(a))
    };
    adjective && token.spaced && (sized || article || counted)
}
