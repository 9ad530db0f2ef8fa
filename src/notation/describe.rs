//! Descriptions: a text, or the cells of a row, as the items that they name.

use std::sync::LazyLock;

use super::{
    callout::{Callout, ItemCells, Notation, Role, Unread},
    dates, designation,
    fold::{fold, fold_number, is_blank, is_space},
    known::Known,
    reader::Reader,
    token::{Tok, Token},
    unsettled, wording,
    words::{Sense, look_up},
};
use crate::{doubt::Doubt, hardware::PartName};

/// No size is known.
static NOTHING: LazyLock<Known> = LazyLock::new(Known::default);

/// Reads one text as the items that it names, at least one.
///
/// # Errors
/// [`Unread`] where it names none; the text is then kept word for word by the caller.
pub fn describe(text: &str, notation: Notation) -> Result<Vec<Callout>, Unread> {
    describe_cells(
        &ItemCells {
            description: text,
            ..ItemCells::default()
        },
        notation,
    )
}

/// Reads the item cells of a row as the items that they name, at least one.
///
/// # Errors
/// [`Unread`] where they name none.
pub fn describe_cells(cells: &ItemCells<'_>, notation: Notation) -> Result<Vec<Callout>, Unread> {
    describe_among(cells, notation, &NOTHING)
}

/// Reads the item cells of a row among sizes that are known: where several readings are open, those
/// speak for one of them. What was open stays a doubt.
///
/// # Errors
/// [`Unread`] where they name none.
pub fn describe_among(
    cells: &ItemCells<'_>,
    notation: Notation,
    known: &Known,
) -> Result<Vec<Callout>, Unread> {
    let plain = designation::plain(cells.description);
    let mut cells = ItemCells {
        description: &plain,
        ..*cells
    };
    if !cells.size.is_empty() && designation::names_standard(cells.description) {
        cells.size = designation::without_form(cells.size);
    }
    let mut callouts = describe_row(&cells, notation, known)?;
    let mut parts = (callouts.iter_mut())
        .filter(|callout| callout.item.part.is_some())
        .peekable();
    if parts.peek().is_some() && designation::is_standard_alone(cells.description) {
        for part in parts {
            part.doubts.push(Doubt::Said(
                "a standard and nothing else: may be a fastener, which is not known by it".into(),
            ));
        }
    }
    Ok(callouts)
}

/// Reads the item cells of a row, a standard's designation in plain words, as the items that they name.
pub(super) fn describe_row(
    cells: &ItemCells<'_>,
    notation: Notation,
    known: &Known,
) -> Result<Vec<Callout>, Unread> {
    let mut callouts = match marked_part(cells.description) {
        Some(part) => vec![part],
        None => read_cells(cells, notation, known),
    };
    if let Some(number) = fold_number(cells.part_number) {
        match callouts.first_mut() {
            Some(callout) => name(callout, number),
            None => callouts.push(Callout::of_part(PartName {
                number: Some(number),
                description: None,
            })),
        }
    }
    if callouts.is_empty() {
        return Err(if is_blank(cells.description) && cells.is_alone() {
            Unread::Empty
        } else {
            Unread::NoItem("no item is named".into())
        });
    }
    Ok(callouts)
}

/// Gives a callout the maker's number of its row; another one in its text is left over.
fn name(callout: &mut Callout, number: Box<str>) {
    let place = match &mut callout.item.part {
        Some(part) => &mut part.number,
        None => &mut callout.part_number,
    };
    if let Some(other) = place.replace(number)
        && place.as_ref() != Some(&other)
    {
        callout.doubts.push(Doubt::LeftOver(other));
    }
}

/// True for a part's name as lists turn it round: `bracket, left hand`.
pub fn names_part(text: &str) -> bool {
    let Some((name, rest)) = text.split_once(',') else {
        return false;
    };
    let mut words = name.split(is_space).rev();
    let thing = words
        .next()
        .and_then(look_up)
        .is_some_and(|row| row.senses.contains(&Sense::Thing));
    thing && words.count() < 3 && !rest.ends_with('.') && rest.split_whitespace().count() < 5
}

/// True for words that say a finish or a grade, and nothing else: `zinc`, `A2`, `8.8 HDG`.
pub fn says_finish(text: &str) -> bool {
    let mut reader = Reader::new(text, Notation::default());
    reader.cell();
    let says = |token: &Token| match token.tok {
        Tok::Word(_) | Tok::Unknown | Tok::Num { .. } | Tok::Count(_) | Tok::Code => {
            matches!(token.role, Some(Role::Finish | Role::Grade))
        }
        _ => true,
    };
    !is_blank(text) && reader.tokens.iter().all(says)
}

/// The canonical text of a part: `girder shoe, left [part FB-210]`.
fn marked_part(text: &str) -> Option<Callout> {
    // Most texts end in a letter.
    if text
        .as_bytes()
        .last()
        .is_some_and(u8::is_ascii_alphanumeric)
    {
        return None;
    }
    let inner = text.trim_end_matches(is_space).strip_suffix(']')?;
    let open = inner.rfind("[part")?;
    let number = &inner[open + "[part".len()..];
    if !(number.is_empty() || number.starts_with(' ')) {
        return None;
    }
    let description = fold(&inner[..open]);
    let part = PartName {
        number: fold_number(number),
        description: (!description.is_empty()).then_some(description),
    };
    (part.number.is_some() || part.description.is_some()).then(|| Callout::of_part(part))
}

fn read_cells(cells: &ItemCells<'_>, notation: Notation, known: &Known) -> Vec<Callout> {
    if cells.is_alone()
        && let Some(callout) = wording::read(cells.description, notation)
    {
        return vec![callout];
    }
    if is_blank(cells.size)
        && let Some(sizes) = dates::recover(cells.description)
    {
        // A date in the place of the description is a size without a name.
        let cells = ItemCells {
            description: "",
            size: cells.description,
            ..*cells
        };
        return if sizes.is_empty() {
            Vec::new()
        } else {
            read_cells(&cells, notation, known)
        };
    }
    let mut reader = Reader::new(cells.description, notation);
    if cells.is_alone()
        && let Some(callouts) = reader.plain()
    {
        wording::learn(&reader, &callouts);
        return callouts;
    }
    unsettled::weighed(reader, cells, known)
}
