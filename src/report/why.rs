//! How a line was understood: what each piece of its words was taken for, and every way to read them.

use std::io::{self, Write};

use serde::Serialize;

use super::wrap::wrapped;
use crate::{
    columns::Meaning,
    hardware::Item,
    kit::{Line, List, Words},
    notation::{self, Callout, Known, NARROW, Readings, Role},
};

/// Ways to read a line that are shown.
const MOST: usize = 5;
/// Characters of a piece that its column is made for.
const WIDEST: usize = 28;

/// Says what the explanations are, above the first.
pub fn key() -> String {
    format!(
        "Under each line: its words, what each was taken for, and the ways to read them, the likeliest first. \
         A score of 0 is as plain as can be. Where the next best is less than {NARROW} below, both are told."
    )
}

/// The words that a line was read from, and whether the line is the last that was.
pub fn words(list: &List, at: usize) -> Option<(&Words, bool)> {
    let line = &list.lines[at];
    let address = |of: &Words| (of.sheet, of.row);
    let here = (line.sheet, line.row);
    let first = list.words.partition_point(|of| address(of) < here);
    let all = list.words[first..].iter().filter(|of| address(of) == here);
    let of_row = all.take_while(|of| address(of) == here).count();
    if of_row == 0 {
        return None;
    }
    let same_row = |other: &Line| (other.sheet, other.row) == here;
    let before = list.lines[..at]
        .iter()
        .rev()
        .take_while(|l| same_row(l))
        .count();
    let last = !list.lines.get(at + 1).is_some_and(same_row);
    match of_row {
        1 => Some((&list.words[first], last)),
        _ => {
            let all = &list.words[first..first + of_row];
            let of = all.get(before)?;
            let next = all.get(before + 1);
            Some((
                of,
                of.in_prose || next.is_none_or(|next| next.item != of.item),
            ))
        }
    }
}

/// What a piece was taken for, in a word or two.
fn spoken(role: Option<Role>) -> &'static str {
    match role {
        Some(Role::Count) => "how many",
        Some(Role::Size) => "size",
        Some(Role::Name) => "what it is",
        Some(Role::Grade) => "grade",
        Some(Role::Finish) => "finish",
        Some(Role::Number) => "maker's number",
        Some(Role::Standard) => "standard",
        Some(Role::Price) => "price, passed over",
        Some(Role::Torque) => "torque",
        Some(Role::Note) => "a note",
        Some(Role::Places) => "how many places",
        Some(Role::Passed) => "passed over",
        Some(Role::Other) => "another item of the sentence",
        Some(Role::Measure) => "a measure or a number of something else, passed over",
        Some(Role::Told) => "other words, passed over",
        None => "not understood",
    }
}

/// `4 of 5/8 hex nut and 2 of 5/8 lock nut`. `counted`: the count stands elsewhere.
fn items(callouts: &[Callout], counted: bool) -> String {
    let item = |callout: &Callout| match callout.quantity {
        Some(quantity) => format!("{} of {}", quantity.pieces, callout.item.text()),
        None if counted => callout.item.text(),
        None => format!("{}, no count", callout.item.text()),
    };
    callouts.iter().map(item).collect::<Vec<_>>().join(" and ")
}

/// Writes the explanation under a line, indented.
///
/// # Errors
/// What the writer reports.
pub fn write(
    words: &Words,
    known: &Known,
    item: Option<&Item>,
    indent: usize,
    out: &mut impl Write,
) -> io::Result<()> {
    let object = WhyObject::of(words, known);
    let pad = " ".repeat(indent);
    let from = match words.in_prose {
        true => "from the sentence",
        false => "by its column",
    };
    let pieces = object.sentence.as_ref().unwrap_or(&object.pieces);
    let rows: Vec<(String, String)> = (object.beside.iter())
        .map(|cell| {
            let is = match cell.what {
                Meaning::Ignored => "passed over".to_owned(),
                what => format!("{what}, {from}"),
            };
            (cell.text.to_owned(), is)
        })
        .chain(
            pieces
                .iter()
                .map(|piece| (piece.text.clone(), piece.is.to_owned())),
        )
        .collect();
    let width = |text: &str| text.chars().count().min(WIDEST);
    let widest = rows.iter().map(|(text, _)| width(text)).max().unwrap_or(0);
    for (text, is) in &rows {
        let fill = " ".repeat(widest - width(text));
        wrapped(
            out,
            &format!("{pad}{text}{fill}  "),
            indent + 2,
            &format!("= {is}"),
        )?;
    }
    for (at, way) in object.readings.iter().take(MOST).enumerate() {
        let head = if at == 0 { "read as  " } else { "or as    " };
        let mut text = format!("{}  (score {}", way.text, way.score);
        if let Some(known) = &way.known {
            text += &format!("; {known}");
        }
        text.push(')');
        wrapped(out, &format!("{pad}{head}"), indent + head.len(), &text)?;
    }
    if let (Some(item), true) = (item, words.in_prose && object.lacks_size)
        && let Some(diameter) = item.diameter
    {
        writeln!(out, "{pad}size {diameter} from the bolt that it goes with")?;
    }
    match object.readings.len() {
        0 => writeln!(out, "{pad}no way to read it as an item"),
        1 => writeln!(out, "{pad}no other way to read it"),
        n if n > MOST => writeln!(out, "{pad}and {} ways more", n - MOST),
        _ => Ok(()),
    }
}

/// The same for programs.
#[derive(Serialize)]
pub struct WhyObject<'a> {
    /// The row's other filled cells, or what the rest of the sentence says.
    beside: Vec<CellObject<'a>>,
    /// The words that name the item.
    text: &'a str,
    pieces: Vec<PieceObject>,
    /// Every word of the sentence that the item stands in, numbers in figures.
    sentence: Option<Vec<PieceObject>>,
    /// The likeliest first.
    readings: Vec<WayObject>,
    /// By how much the first score is above the next; below it where known sizes chose.
    margin: Option<i32>,
    /// The words name one item and no size.
    #[serde(skip)]
    lacks_size: bool,
}

#[derive(Serialize)]
struct CellObject<'a> {
    what: Meaning,
    text: &'a str,
}

#[derive(Serialize)]
struct PieceObject {
    text: String,
    is: &'static str,
}

#[derive(Serialize)]
struct WayObject {
    /// 0 at best.
    score: i32,
    text: String,
    /// What of it is known from the rest of the list or from the parts list.
    known: Option<String>,
}

/// Every word of the sentence that an item stands in; where the sentence repeats it, its words too.
fn sentence(words: &Words) -> Vec<PieceObject> {
    let (text, pieces) = notation::pieces(&words.sentence, &words.item[0], words.notation);
    let said = |piece: notation::Piece| PieceObject {
        text: text[piece.at].to_owned(),
        is: spoken(piece.role),
    };
    pieces.into_iter().map(said).collect()
}

impl WhyObject<'_> {
    pub fn of<'a>(words: &'a Words, known: &Known) -> WhyObject<'a> {
        let [text, cells @ ..] = &words.item;
        let Readings {
            alternatives,
            pieces,
        } = words.readings(known);
        let beside = words.beside.iter().map(|(column, text)| (*column, text));
        let item = Words::ITEM.into_iter().zip(cells);
        let mut readings: Vec<WayObject> = Vec::new();
        let first = alternatives.first().map(|way| way.callouts.as_slice());
        let lacks_size = matches!(first, Some([one]) if one.item.diameter.is_none());
        for way in alternatives {
            let text = items(&way.callouts, words.counted_beside());
            if !readings.iter().any(|known| known.text == text) {
                readings.push(WayObject {
                    score: way.score,
                    text,
                    known: way.known,
                });
            }
        }
        WhyObject {
            beside: (beside.chain(item))
                .filter(|(_, text)| !text.is_empty())
                .map(|(what, text)| CellObject { what, text })
                .collect(),
            pieces: (pieces.into_iter())
                .map(|piece| PieceObject {
                    text: text[piece.at].to_owned(),
                    is: spoken(piece.role),
                })
                .collect(),
            sentence: words.in_prose.then(|| sentence(words)),
            text,
            margin: match readings.as_slice() {
                [first, next, ..] => Some(first.score - next.score),
                _ => None,
            },
            readings,
            lacks_size,
        }
    }
}
