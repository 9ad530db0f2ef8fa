//! Figures of a sentence that no item took.

use std::ops::Range;

use super::{Call, things::counts_things, vocabulary::DISTANCES, wording::number};
use crate::doubt::Doubt;
use crate::notation::{
    number::Shape,
    reader::Reader,
    token::{Prefix, Tok},
    words::{Row, Sense},
};

/// Doubts about figures that no reading took, save those that measure or count other things, which
/// are given back.
pub(super) fn left_over(
    reader: &Reader<'_>,
    masked: &str,
    calls: &[Call],
    doubts: &mut Vec<Doubt>,
) -> (Vec<Range<usize>>, Vec<Range<usize>>, Option<&'static str>) {
    let (mut measures, mut left) = (Vec::new(), Vec::new());
    let mut unread = None;
    for i in 0..reader.tokens.len() {
        let token = &reader.tokens[i];
        if token.role.is_some() {
            continue;
        }
        let Some((_, shape, prefix)) = reader.number(i) else {
            // `six, no, eight`: what does the first count?
            let counts = reader
                .word(i)
                .and_then(Row::count)
                .is_some_and(|n| n > 1 && !counts_things(reader, i));
            if counts && !calls.is_empty() {
                doubts.push(Doubt::LeftOver(masked[token.start..token.end].into()));
                continue;
            }
            let digits = masked[token.start..token.end].contains(|c: char| c.is_numeric());
            // A code names a part.
            if digits && !matches!(reader.tok(i), Some(Tok::Code | Tok::Mark)) && !calls.is_empty()
            {
                doubts.push(Doubt::LeftOver(masked[token.start..token.end].into()));
                left.push(token.start..token.end);
            } else if digits {
                measures.push(token.start..token.end);
            }
            continue;
        };
        let fine = prefix == Prefix::None && shape == Shape::Whole;
        let joins =
            |at: usize| matches!(reader.tok(at), Some(Tok::Join)) || reader.says(at, Sense::By);
        let makes = ["hole", "slot", "bit"];
        if !fine && joins(i + 1) && !makes.iter().any(|made| masked[token.end..].contains(made)) {
            unread = Some("a size, and no word says of what");
        }
        // `4 x H7`
        let of_code = matches!(reader.tok(i + 1), Some(Tok::Join))
            && matches!(reader.tok(i + 2), Some(Tok::Code));
        if fine && of_code {
            unread = Some("a count of what only its number names: the parts list tells what it is");
        }
        let unit = |at: usize| {
            matches!(reader.tok(at), Some(Tok::Inch | Tok::Foot))
                || reader
                    .sense(at, |s| {
                        matches!(s, Sense::Unit(_) | Sense::Metric(_) | Sense::Foot).then_some(())
                    })
                    .is_some()
        };
        let dash = usize::from(matches!(reader.tok(i + 1), Some(Tok::Dash)));
        // A length right behind an item may be the item's.
        let behind_item = i > 0
            && calls
                .iter()
                .any(|call| call.at.end == reader.tokens[i - 1].end);
        let distance = (i + 2 + dash..i + 4 + dash)
            .filter_map(|at| reader.tokens.get(at))
            .any(|token| DISTANCES.contains(&&masked[token.start..token.end]));
        let measure = unit(i + 1 + dash) && (distance || !behind_item);
        let dimension =
            fine && (joins(i + 1) && reader.number(i + 2).is_some() || (i > 0 && joins(i - 1)));
        let of_parts = fine && counts_things(reader, i);
        if measure || dimension || of_parts {
            measures.push(token.start..token.end);
        } else {
            doubts.push(Doubt::LeftOver(masked[token.start..token.end].into()));
            left.push(token.start..token.end);
        }
    }
    (measures, left, unread.filter(|_| calls.is_empty()))
}

/// `Then six more, 1 in. longer`: of what is not said.
pub(super) fn asks_for_more(text: &str) -> bool {
    text.match_indices(" more").any(|(at, more)| {
        let ends = text[at + more.len()..].starts_with([',', '.', ';']);
        let before = text[..at].rsplit(' ').next().unwrap_or_default();
        ends && number(before).is_some_and(|n| n > 0)
    })
}
