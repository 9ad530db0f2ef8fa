//! Rows without headings that hold several lines, one behind another: `4 side rails; 6 cross tubes; 16 M8 x 50
//! hex bolts`. Each piece has a count of its own (common practice, no source).

use super::{
    super::remark,
    beside::{self, are_several, count_behind},
};
use crate::{
    Doubt,
    columns::furniture,
    notation::{Callout, Notation, describe, number_in_words},
    source::Row,
};

/// So many pieces between commas make lines; of fewer, one may tell of another.
const ENOUGH: usize = 3;

/// The lines that a row holds, if it holds several and as one would read otherwise. Fasteners in a row stay
/// together, since they may be of one joint.
pub(super) fn lines(row: &Row, text: &str, notation: Notation) -> Option<Vec<String>> {
    let cells = row.cells().map(|(cell, _)| cell.trim());
    let cells: Vec<&str> = cells.filter(|cell| !cell.is_empty()).collect();
    // `12 bolts / 24 washers / 12 nuts`; two may be one in two languages.
    let counts = |piece: &str| in_front(piece).is_some();
    if text.matches(" / ").count() + 1 >= ENOUGH && text.split(" / ").all(counts) {
        let whole = text.replace(" / ", ", ");
        return lines(&Row::of_text(row.number, &whole), &whole, notation).or(Some(vec![whole]));
    }
    let (pieces, enough): (Vec<&str>, usize) = match cells.as_slice() {
        [only] if only.contains(';') => (only.split(';').collect(), 2),
        [only] => (only.split(", ").collect(), ENOUGH),
        several => (several.to_vec(), 2),
    };
    let pieces = pieces
        .into_iter()
        .map(|piece| piece.trim().trim_end_matches('.'))
        .map(|piece| piece.strip_prefix("and ").unwrap_or(piece));
    let pieces: Vec<&str> = pieces.filter(|piece| !piece.is_empty()).collect();
    if furniture::is_total(text) || furniture::is_paper(text) {
        return None;
    }
    let pairs =
        || are_pairs(&pieces, notation) && (are_plain(&pieces) || reads_badly(text, notation));
    let whole = || pieces.iter().map(|piece| (*piece).to_owned()).collect();
    parted(&pieces, enough, text, notation)
        .or_else(|| Some(vec![of_one_size(&cells.join(" "), notation)?]))
        .or_else(|| pairs().then(whole))
}

/// Words that tell which of a thing is meant, and what else figures stand behind: pieces that begin so name no part of
/// their own (`panels left 2, right 2`, `Mill Road 12, gate 3`).
const NO_PARTS: &[&str] = &[
    "left", "right", "lh", "rh", "front", "rear", "back", "top", "bottom", "upper", "lower",
    "inner", "outer", "long", "short", "large", "small", "good", "bay", "bag", "box", "carton",
    "crate", "case", "parcel", "pallet", "step", "stage", "phase", "section", "page", "sheet",
    "figure", "fig", "shelf", "row", "unit", "room", "level", "floor", "table", "gate", "no",
    "number", "kit", "set", "order", "slip", "job", "line", "lot", "rev", "part", "item", "day",
    "week", "version", "total", "hall", "dock", "plot", "grid", "class", "grade", "size",
];

/// Words that begin what is said of a count beside them: `rails 8, less 2`, `rails 8, for kit 2`.
pub(super) const REMARKS: &[&str] = &[
    "less", "minus", "except", "but", "for", "from", "see", "ask", "per", "as", "not", "by", "of",
];

/// True for a piece that tells of the one in front of it.
fn tells_of_another(piece: &str) -> bool {
    let words = piece.trim_end_matches(|c: char| c.is_ascii_digit());
    let first = words.split(' ').next().unwrap_or_default().to_lowercase();
    let is_mark = NO_PARTS.contains(&first.as_str()) && words.split_whitespace().count() < 2;
    is_mark || REMARKS.contains(&first.as_str())
}

/// True for pieces that are each words of a part and its figure behind: nothing of them is of another.
fn are_plain(pieces: &[&str]) -> bool {
    let plain = |piece: &&str| {
        let words = piece.trim_end_matches(|c: char| c.is_ascii_digit());
        words.len() < piece.len()
            && words.ends_with(' ')
            && words.chars().all(|c| c.is_alphabetic() || c == ' ')
            && !tells_of_another(piece)
            && remark::counted_in_words(piece).is_none()
            && !remark::may_hide_count(piece, false)
    };
    let is_title = |piece: &&str| piece.starts_with(char::is_uppercase);
    pieces.iter().all(plain) && !(pieces.len() == 2 && pieces.iter().all(is_title))
}

/// The same of pieces of which so many are enough, and one is a part.
fn parted(pieces: &[&str], enough: usize, text: &str, notation: Notation) -> Option<Vec<String>> {
    // `2 x axle clip, 2 x M6 washer`: a mark behind each count leaves nothing open.
    // `14 roof sheets, 7 ridge pieces`: things of several words, and none that tells of the other.
    let named = |piece: &&str| {
        let mut words = piece.split_whitespace().skip(1);
        let begins = piece.starts_with(|c: char| c.is_ascii_digit());
        let of =
            words.clone().count() > 1 && words.all(|word| word.chars().all(char::is_alphabetic));
        begins && of && piece.ends_with('s') && !piece.ends_with("spares")
    };
    let marked = pieces.len() > 1
        && (pieces.iter().all(|piece| beside::before(piece).is_some()) || pieces.iter().all(named));
    let enough = match pieces.iter().all(|piece| ends_sized(piece)) {
        true => 2,
        false => enough,
    };
    if pieces.len() < enough && !marked {
        return None;
    }
    let counts = pieces
        .iter()
        .map(|piece| Some((*piece, counted(piece, notation)?)));
    let counts: Vec<(&str, Counted)> = counts.collect::<Option<_>>()?;
    let sum: u64 = counts[1..].iter().map(|(_, counted)| counted.pieces).sum();
    let parts = counts
        .iter()
        .filter(|(_, counted)| !counted.is_hardware)
        .count();
    // `M8x40 8, M8 washers 8`: each fastener has a size of its own, and its count behind.
    let sized = counts.iter().all(|(_, counted)| counted.sized_behind);
    if sized && pieces.len() > 1 {
        return Some(pieces.iter().map(|piece| (*piece).to_owned()).collect());
    }
    // `8 legs, 4 left, 4 right`: shares of the first.
    if (counts[0].1.pieces == sum && !marked)
        || parts == 0
        || !(marked || reads_badly(text, notation))
    {
        return None;
    }
    let mut lines: Vec<String> = Vec::new();
    let mut hardware_above = false;
    for (piece, counted) in counts {
        match lines
            .last_mut()
            .filter(|_| hardware_above && counted.is_hardware)
        {
            Some(line) => {
                line.push_str(", ");
                line.push_str(piece);
            }
            None => lines.push(piece.to_owned()),
        }
        hardware_above = counted.is_hardware;
    }
    Some(lines)
}

struct Counted {
    pieces: u64,
    is_hardware: bool,
    /// It is hardware with a size, and the count stands behind both.
    sized_behind: bool,
}

/// True for words with a thread's size and a bare figure behind: `M8 washers 8`.
fn ends_sized(piece: &str) -> bool {
    let Some((words, figures)) = piece.rsplit_once(' ') else {
        return false;
    };
    figures.bytes().all(|b| b.is_ascii_digit()) && furniture::holds_size(words)
}

/// The words of a piece, and its count behind: `M8 x 40` is a size, `washers x 40` none.
fn behind(piece: &str) -> Option<(&str, u64)> {
    let (words, pieces) = piece.rsplit_once(' ')?;
    let pieces = pieces.parse().ok()?;
    let bare = words.trim_end_matches([':', '-', '\u{2013}', '=', ' ']);
    let times = bare.strip_suffix(" x").or(bare.strip_suffix(" \u{d7}"));
    match times {
        Some(words) if words.ends_with(|c: char| c.is_ascii_digit()) => None,
        Some(words) => Some((words, pieces)),
        None => Some((bare, pieces)),
    }
}

/// Words in front of a figure that say of how many, or of what (common practice, no source).
const LEADS: [&str; 9] = [
    "with", "w/", "c/w", "plus", "of", "for", "per", "by", "each",
];

/// A count, and the words that a sign ties to it: `12`, `x12`, `(12)`, `bolts=12`.
fn signed(token: &str) -> Option<(&str, u64)> {
    let (words, figures) = match token.strip_suffix(')') {
        Some(open) => open.split_once('(')?,
        None => {
            let tied = || Some(("", token.strip_prefix(['x', 'X', '\u{d7}'])?));
            token
                .rsplit_once(['=', ':'])
                .or_else(tied)
                .unwrap_or(("", token))
        }
    };
    Some((words, figures.parse().ok()?))
}

/// Hardware with a size and its count behind, and what goes with it, each with its count: a figure behind a full size
/// can be nothing else, nor can those behind the others, nor any behind `=`. As one line with the counts in front,
/// `M10 x 140 12, washers 24` is `12 M10 x 140, 24 washers`.
fn of_one_size(text: &str, notation: Notation) -> Option<String> {
    let tokens = text.split_whitespace();
    let tokens = tokens.map(|token| token.trim_end_matches([',', ';', ':']));
    let mut groups: Vec<(String, u64)> = Vec::new();
    let (mut words, mut behind_sign) = (String::new(), false);
    let marks = ["", "and", "&", "/", "+", "=", "-", "\u{2013}"];
    for token in tokens.filter(|token| !marks.contains(token)) {
        let counted = signed(token).filter(|_| !behind_sign);
        let counted = counted.filter(|(tied, _)| !words.is_empty() || !tied.is_empty());
        let said = counted.map_or(token, |(tied, _)| tied);
        if !words.is_empty() && !said.is_empty() {
            words.push(' ');
        }
        words.push_str(said);
        if let Some((_, pieces)) = counted {
            groups.push((std::mem::take(&mut words), pieces));
        }
        behind_sign = matches!(token, "x" | "X" | "\u{d7}");
    }
    let ((first, _), others) = groups.split_first()?;
    let hardware = |words: &str, sized: bool| {
        let all = describe(words, notation).unwrap_or_default();
        matches!(all.as_slice(), [only] if only.is_hardware()
            && only.quantity.is_none()
            && only.item.diameter.is_some() == sized)
    };
    let bare = |(words, _): &(String, u64)| {
        !words.contains(|c: char| c.is_ascii_digit()) && hardware(words, false)
    };
    // `with 2 nuts 4`: of each, and how many there are.
    let leads = |(words, _): &(String, u64)| {
        let last = words.rsplit(' ').next().unwrap_or_default();
        LEADS.contains(&last.to_lowercase().as_str())
    };
    let is_sized = furniture::holds_size(first);
    let fits = words.is_empty()
        && !others.is_empty()
        && !groups.iter().any(leads)
        && (is_sized || text.matches('=').count() == groups.len());
    if !fits || !others.iter().all(bare) || !hardware(first, is_sized) {
        return None;
    }
    let all = groups
        .iter()
        .map(|(words, pieces)| format!("{pieces} {words}"));
    Some(all.collect::<Vec<_>>().join(", "))
}

/// The words of several behind their count: `24 washers`.
fn in_front(piece: &str) -> Option<&str> {
    let (pieces, words) = piece.split_once(' ')?;
    pieces.parse::<u64>().ok()?;
    are_several(words).then_some(words)
}

/// True for pieces that each bear a count, all in front of their words or all behind, where one tells that it names
/// several things and has no other figure: `5/8 x 6 11, washers 48, lock nuts 24`, `8 wedge anchors, 4 pads`.
fn are_pairs(pieces: &[&str], notation: Notation) -> bool {
    let tells = |words: &str| are_several(words) && !words.contains(|c: char| c.is_ascii_digit());
    let counts_none = |words: &str| {
        describe(words, notation).map_or_else(
            |_| words.chars().all(|c| c.is_alphabetic() || c == ' '),
            |all| matches!(all.as_slice(), [only] if only.quantity.is_none()),
        )
    };
    let are_named = |of: fn(&str) -> Option<&str>| {
        let named = pieces.iter().map(|piece| of(piece));
        let Some(mut named) = named.collect::<Option<Vec<&str>>>() else {
            return false;
        };
        named.sort_unstable();
        named.len() > 1
            && named.windows(2).all(|pair| pair[0] != pair[1])
            && (named.iter().any(|words| tells(words)) || are_plain(pieces))
            && named.iter().all(|words| counts_none(words))
    };
    let told = pieces.iter().skip(1).any(|piece| tells_of_another(piece));
    !told && (are_named(|piece| Some(behind(piece)?.0)) || are_named(in_front))
}

/// A piece that is a line by itself: one item, and its count in front or behind.
fn counted(piece: &str, notation: Notation) -> Option<Counted> {
    let first = piece
        .split(char::is_whitespace)
        .next()?
        .trim_end_matches(['x', 'X']);
    let all = describe(piece, notation).ok()?;
    let [only] = all.as_slice() else { return None };
    let stated = only.quantity.map(|quantity| quantity.pieces);
    let behind = count_behind(piece, notation).map(|(_, pieces)| pieces);
    let in_front = first.parse().ok().or_else(|| number_in_words(first));
    let pieces = match in_front {
        Some(pieces) => stated.filter(|stated| *stated == pieces)?,
        None => behind.or(stated.filter(|stated| piece.ends_with(&stated.to_string())))?,
    };
    let is_remark =
        remark::counted_in_words(piece).is_some() || remark::may_hide_count(piece, false);
    // `step 5`, `bag 2`: where the others belong.
    let is_title = furniture::is_note(piece)
        || furniture::stage_title(piece).is_some()
        || furniture::container(piece).is_some();
    (!is_remark && !is_title).then_some(Counted {
        pieces,
        is_hardware: only.is_hardware(),
        sized_behind: ends_sized(piece)
            && in_front.is_none()
            && only.is_hardware()
            && only.item.diameter.is_some(),
    })
}

/// True where a row as one line leaves figures over, or words.
fn reads_badly(text: &str, notation: Notation) -> bool {
    let is_figure = |doubt: &Doubt| match doubt {
        Doubt::MayBeCount(_) | Doubt::UnknownWords(_) => true,
        Doubt::LeftOver(over) => over.contains(|c: char| c.is_ascii_digit()),
        _ => false,
    };
    let leaves =
        |callout: &Callout| callout.doubts.iter().any(is_figure) || callout.quantity.is_none();
    describe(text, notation).map_or(true, |all| all.iter().any(leaves))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::CellKind;

    #[track_caller]
    fn case(cells: &[&str], expected: Option<&[&str]>) {
        let mut row = Row::default();
        for cell in cells {
            row.push(cell, CellKind::Text);
        }
        let mut text = String::new();
        row.join_into(&mut text);
        let found = lines(&row, &text, Notation::default());
        let found: Option<Vec<&str>> = found
            .as_ref()
            .map(|all| all.iter().map(String::as_str).collect());
        assert_eq!(found.as_deref(), expected);
    }

    #[test]
    fn lines_in_a_row() {
        case(
            &["4 seat planks, 6 cross bars, 12 end caps, 16 M8 x 50 hex bolts, 16 nuts"],
            Some(&[
                "4 seat planks",
                "6 cross bars",
                "12 end caps",
                "16 M8 x 50 hex bolts, 16 nuts",
            ]),
        );
        case(
            &["seat planks: 4; cross bars: 6; M8 x 50 hex bolts: 16"],
            Some(&["seat planks: 4", "cross bars: 6", "M8 x 50 hex bolts: 16"]),
        );
        case(
            &["4 seat planks", "6 cross bars", "16 M8 x 50 hex bolts"],
            Some(&["4 seat planks", "6 cross bars", "16 M8 x 50 hex bolts"]),
        );
        case(
            &["base rails 4, posts 4, ridge 1"],
            Some(&["base rails 4", "posts 4", "ridge 1"]),
        );
        case(
            &["one base plate, two mast sections, and three guy brackets"],
            Some(&["one base plate", "two mast sections", "three guy brackets"]),
        );
        case(
            &["M8x40 8, M8 washers 8"],
            Some(&["M8x40 8", "M8 washers 8"]),
        );
        case(
            &["M8 x 40 bolts 8, washers 8"],
            Some(&["8 M8 x 40 bolts, 8 washers"]),
        );
        case(
            &["hex bolts M10x140 12, washers 24, nuts: 12"],
            Some(&["12 hex bolts M10x140, 24 washers, 12 nuts"]),
        );
        case(
            &["hex bolts 1/2 x 3 12 washers 24 and nuts 12"],
            Some(&["12 hex bolts 1/2 x 3, 24 washers, 12 nuts"]),
        );
        for written in [
            "M10x140 12 / washers 24 / nuts 12",
            "M10x140: 12, washers: 24, nuts: 12",
            "M10x140 (12), washers (24), nuts (12)",
            "M10x140 = 12, washers = 24, nuts = 12",
            "M10x140 x12, washers x24, nuts x12",
            "M10x140 - 12 + washers - 24 + nuts - 12",
        ] {
            case(&[written], Some(&["12 M10x140, 24 washers, 12 nuts"]));
        }
        case(
            &["bolts=12 washers=24 nuts=12"],
            Some(&["12 bolts, 24 washers, 12 nuts"]),
        );
        case(
            &["12 bolts / 24 washers / 12 nuts"],
            Some(&["12 bolts, 24 washers, 12 nuts"]),
        );
        case(&["M8 x 40 bolts 8 left 4"], None);
        case(&["U-bolt 3/8 with 2 nuts 4"], None);
        case(
            &["anchors 24, washers 24, nuts 22"],
            Some(&["anchors 24", "washers 24", "nuts 22"]),
        );
        case(
            &["5/8 x 5-1/2 12, 5/8 x 6 11, washers 48, nylocks 24"],
            Some(&["5/8 x 5-1/2 12", "5/8 x 6 11", "washers 48", "nylocks 24"]),
        );
        case(
            &["wedge anchors: 8, pads: 4"],
            Some(&["wedge anchors: 8", "pads: 4"]),
        );
        case(
            &["8 wedge anchors, 4 pads"],
            Some(&["8 wedge anchors", "4 pads"]),
        );
        case(
            &["beam saddle left 1, beam saddle right 1"],
            Some(&["beam saddle left 1", "beam saddle right 1"]),
        );
        case(
            &["long base rails 2, short base rails 2"],
            Some(&["long base rails 2", "short base rails 2"]),
        );
        case(&["hinges 4, handle 1"], Some(&["hinges 4", "handle 1"]));
        case(&["panel 4, left 2"], None);
        case(&["rails 8, less 2"], None);
        case(&["rails 8, for kit 2"], None);
        case(&["rails 8, kit 7"], None);
        case(&["Mill Road 12, Gate 3"], None);
        case(&["washers M8 x 16, M8 x 25"], None);
        case(&["8 bolts, 16 washers"], None);
        // What tells of the first, and one joint.
        case(&["8 legs, 4 left, 4 right"], None);
        case(&["4 rails, 2 bent, 1 missing"], None);
        case(&["4 rails, 90 mm wide, 2 m long"], None);
        case(&["8 M8 x 40 hex bolts, 16 washers, 8 nuts"], None);
        case(&["see note 3, 12 M8 x 40 bolts, step 5"], None);
    }
}
