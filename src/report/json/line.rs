//! The lines of lists.

use std::io::{self, Write};

use serde::Serialize;

use super::fields::{ItemFields, TableFields, number_of};
use crate::{
    kit::{LineStatus, List, MassOf, Role, Usage, What},
    report::{
        why::{self, WhyObject},
        wording,
    },
};

/// One line of a list.
#[derive(Serialize)]
struct LineObject<'a> {
    file: &'a str,
    sheet: Option<&'a str>,
    row: u32,
    text: &'a str,
    status: LineStatus,
    quantity: Option<u64>,
    #[serde(flatten)]
    item: &'a ItemFields<'a>,
    /// With the first item of its row.
    comes_with: bool,
    part_number: Option<&'a str>,
    stage: Option<&'a str>,
    place: Option<&'a str>,
    r#use: Usage,
    option: Option<String>,
    torque: Option<&'a str>,
    sequence: Option<&'a str>,
    /// What one piece weighs as the list states it, in grams; `null` where it does not, or not of what.
    stated_mass_g: Option<f64>,
    #[serde(flatten)]
    tables: TableFields,
    doubts: Vec<String>,
    id: Option<&'a str>,
    role: Role,
    places: u32,
    packs: Option<u64>,
    bag: Option<&'a str>,
    r#box: Option<&'a str>,
    damaged: u64,
    back_ordered: u64,
    /// For a line about a bag or box as such.
    received: Option<bool>,
    /// Only where it was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    why: Option<WhyObject<'a>>,
}

/// Writes one array, one object a line of the lists, in order. Lines are written as they come, so
/// that a list of any length costs no more memory than its lines.
///
/// # Errors
/// What the writer reports.
pub fn lines(lists: &[List], mut out: impl Write) -> io::Result<()> {
    out.write_all(b"[")?;
    let mut first = true;
    for list in lists {
        let readings: Vec<(ItemFields, String)> = list
            .readings
            .iter()
            .map(|r| (ItemFields::of(&r.item), r.item.id()))
            .collect();
        for (at, line) in list.lines.iter().enumerate() {
            out.write_all(if first { b"\n" } else { b",\n" })?;
            first = false;
            let placement = list.placement_of(line);
            let reading = list.reading_of(line);
            let (fields, id) = match line.what {
                What::Item(index) => {
                    let (fields, id) = &readings[index as usize];
                    (fields, Some(id.as_str()))
                }
                _ => (&ItemFields::NONE, None),
            };
            let object = LineObject {
                file: &list.file,
                sheet: list.sheets[usize::from(line.sheet)].name.as_deref(),
                row: line.row,
                text: &list.text_of(line),
                status: list.status_of(line),
                quantity: line.quantity,
                item: fields,
                comes_with: reading.is_some_and(|r| r.comes_with),
                part_number: reading.and_then(|r| number_of(&r.item, r.part_number.as_deref())),
                stage: placement.stage.as_deref(),
                place: placement.place.as_deref(),
                r#use: placement.usage.unwrap_or(Usage::New),
                option: placement.option.as_ref().map(wording::option),
                torque: placement.torque.as_deref(),
                sequence: placement.sequence.as_deref(),
                stated_mass_g: list
                    .mass_of(line)
                    .filter(|mass| mass.of == MassOf::Piece)
                    .map(|mass| mass.milligrams as f64 / 1000.0),
                tables: TableFields::of(reading.map(|r| &r.item)),
                doubts: wording::why(list, line),
                id,
                role: list.role,
                places: line.places,
                packs: line.packs(),
                bag: placement.bag.as_deref(),
                r#box: placement.carton.as_deref(),
                damaged: line.damaged(),
                back_ordered: line.back_ordered(),
                received: match line.what {
                    What::Bag { received } => received,
                    _ => None,
                },
                why: why::words(list, at).map(|(words, _)| WhyObject::of(words, &list.known)),
            };
            serde_json::to_writer(&mut out, &object)?;
        }
    }
    out.write_all(b"\n]\n")?;
    out.flush()
}
