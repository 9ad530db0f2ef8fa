//! Kits packed from stock: the answer, the pull sheet in walking order, what to order; and one kit's
//! packing slip, which the program reads back.

use rust_xlsxwriter::{Workbook, XlsxError};

use super::{
    sheet::{Column, Pen},
    style::{Paper, Style},
};
use crate::report::{
    packing::{
        packs::{NO_BIN, Packs, next_lacks},
        slip::Slip,
    },
    wording,
};

const ASKED_FOR_AS: &str = "Asked for as";
const TO_LOOK_AT: &str = "To look at";

const ORDERS: [Column; 5] = [
    Column::words("Order", 44.0),
    Column::number("Kits wanted"),
    Column::number("Packed"),
    Column::words("The next one lacks", 64.0),
    Column {
        heading: TO_LOOK_AT,
        number: false,
        least: 24.0,
        most: 44.0,
    },
];

const PULL: [Column; 10] = [
    Column::words("Bin", 16.0),
    Column::words("What lies there", 52.0),
    Column::number("Take"),
    Column::words("For", 30.0),
    Column::number("In each kit"),
    Column::number("Kits"),
    Column::words(ASKED_FOR_AS, 52.0),
    Column::words(TO_LOOK_AT, 26.0),
    Column::words("Where it says so", 30.0),
    Column::words("Pulled", 10.0),
];

const TO_ORDER: [Column; 7] = [
    Column::words("Item", 48.0),
    Column::number("Short"),
    Column::number("For spares"),
    Column::number("Pieces to order"),
    Column::number("Pack of"),
    Column::number("Packs"),
    Column::words("Asked for by", 50.0),
];

const SLIP: [Column; 5] = [
    Column::words("Bag", 18.0),
    Column::words("Part no.", 18.0),
    Column::words("Item", 54.0),
    Column::number("Shipped"),
    Column::words("Packed", 10.0),
];

/// The columns that have something to say.
fn without<const N: usize>(columns: [Column; N], says: impl Fn(&str) -> bool) -> Vec<Column> {
    let columns = columns.into_iter();
    columns.filter(|column| says(column.heading)).collect()
}

pub fn write(
    workbook: &mut Workbook,
    packs: &Packs<'_>,
    style: &Style,
    when: &str,
) -> Result<(), XlsxError> {
    let footer = super::footer_of("Packing", when);
    answer(workbook, packs, style, when, &footer)?;
    pull(workbook, packs, style, &footer)?;
    to_order(workbook, packs, style, &footer)
}

fn answer(
    workbook: &mut Workbook,
    packs: &Packs<'_>,
    style: &Style,
    when: &str,
    footer: &str,
) -> Result<(), XlsxError> {
    let packing = packs.packing;
    let mut pen = Pen::new(workbook, "Packing", Paper::Landscape)?;
    pen.tall(30.0)?.plain("Packing", &style.title)?;
    let files: Vec<&str> = packs.stock.iter().map(|list| list.file.as_str()).collect();
    let about = format!("From {}. {when}.", files.join(", "));
    pen.row()?.plain(&about, &style.subtitle)?;
    let doubted = packing.orders.iter().any(|order| !order.reasons.is_empty());
    let columns = without(ORDERS, |heading| heading != TO_LOOK_AT || doubted);
    let words = columns.len() as u16;
    let answer = packs.answer();
    pen.tall(34.0)?.wide(words, &answer[0], &style.verdict)?;
    pen.tall(22.0)?
        .wide(words, &answer[1], &style.verdict_more)?;
    pen.says(
        "Whole kits first: the most in all; of several ways to the same number, the orders given first. Substitutes are not used.",
        &style.subtitle,
    )?;
    for reason in &packing.reasons {
        pen.says(reason, &style.subtitle)?;
    }
    let heading = pen.headings(style, &columns)?;
    for (order, (name, file)) in packing.orders.iter().zip(packs.orders) {
        pen.row()?
            .text(&format!("{name}\n{file}"), &style.wrap)?
            .number(order.wanted, &style.number)?
            .number(order.kits, &style.strong_number)?
            .text(&next_lacks(order).join("\n"), &style.wrap)?;
        if doubted {
            pen.text(&order.reasons.join("\n"), &style.wrap)?;
        }
    }
    pen.end_table(heading, &columns)?;
    pen.row()?;
    for caution in wording::CAUTIONS {
        pen.says(caution, &style.subtitle)?;
    }
    pen.end_row()?;
    pen.print(Some(heading), footer)
}

fn pull(
    workbook: &mut Workbook,
    packs: &Packs<'_>,
    style: &Style,
    footer: &str,
) -> Result<(), XlsxError> {
    let mut pen = Pen::new(workbook, "Pull sheet", Paper::Landscape)?;
    pen.title("Pull sheet", "In walking order of the bins. \"Take\" is from this bin for this order, all kits together; where one bin has too few, the next line of the item has the rest.", style)?;
    let lines = &packs.packing.pull;
    let renamed = lines.iter().any(|line| line.item != line.stock);
    let doubted = lines.iter().any(|line| !line.unconfirmed.is_empty());
    let columns = without(PULL, |heading| match heading {
        ASKED_FOR_AS => renamed,
        TO_LOOK_AT => doubted,
        _ => true,
    });
    let heading = pen.headings(style, &columns)?;
    for line in lines {
        let unconfirmed = match line.unconfirmed.as_slice() {
            [] => String::new(),
            fields => format!("not confirmed: {}", fields.join(", ")),
        };
        let asked = match line.item == line.stock {
            true => "",
            false => &line.item,
        };
        pen.row()?
            .text(line.bin.as_deref().unwrap_or(NO_BIN), &style.wrap)?
            .text(&line.stock, &style.wrap)?
            .number(line.take, &style.strong_number)?
            .text(packs.order(line.order), &style.wrap)?
            .number(line.each, &style.number)?
            .number(line.kits, &style.number)?;
        if renamed {
            pen.text(asked, &style.wrap)?;
        }
        if doubted {
            pen.text(&unconfirmed, &style.wrap)?;
        }
        pen.text(&packs.where_it_lies(line), &style.wrap)?
            .blank(&style.entry_text)?;
    }
    if packs.packing.pull.is_empty() {
        pen.row()?.plain("Nothing is to be pulled.", &style.cell)?;
    }
    pen.end_table(heading, &columns)?;
    pen.print(Some(heading), footer)
}

fn to_order(
    workbook: &mut Workbook,
    packs: &Packs<'_>,
    style: &Style,
    footer: &str,
) -> Result<(), XlsxError> {
    let mut pen = Pen::new(workbook, "To order", Paper::Landscape)?;
    pen.title(
        "To order",
        "What the stock lacks for all the kits wanted, spares by the jobs' own policies included.",
        style,
    )?;
    let heading = pen.headings(style, &TO_ORDER)?;
    for line in &packs.packing.to_order {
        let orders: Vec<&str> = line.orders.iter().map(|&at| packs.order(at)).collect();
        pen.row()?
            .text(&line.text, &style.wrap)?
            .number(line.short, &style.number)?
            .number(line.spares, &style.number)?
            .number(line.pieces(), &style.strong_number)?
            .number_or(line.pack, "", &style.number)?
            .number_or(line.packs(), "", &style.number)?
            .text(&orders.join("; "), &style.wrap)?;
    }
    if packs.packing.to_order.is_empty() {
        pen.row()?.plain("Nothing is to be ordered.", &style.cell)?;
    }
    pen.end_table(heading, &TO_ORDER)?;
    pen.print(Some(heading), footer)
}

/// One kit's packing slip. What it says is read back with `--shipped`.
pub fn slip(
    workbook: &mut Workbook,
    slip: &Slip<'_>,
    style: &Style,
    when: &str,
) -> Result<(), XlsxError> {
    let mut pen = Pen::new(workbook, "Packing slip", Paper::Portrait)?;
    pen.tall(30.0)?.plain("Packing slip", &style.title)?;
    let kit = format!("Kit {} of {}: {}", slip.kit, slip.of, slip.job);
    pen.row()?.plain(&kit, &style.lead)?;
    let (date, _) = when.split_once(' ').unwrap_or((when, ""));
    pen.row()?
        .plain(&format!("Ship date: {date}"), &style.subtitle)?;
    let heading = pen.headings(style, &SLIP)?;
    for content in slip.contents {
        pen.row()?
            .text(content.bag.as_deref().unwrap_or(""), &style.cell)?
            .text(content.part_number.as_deref().unwrap_or(""), &style.cell)?
            .text(&content.text, &style.wrap)?
            .number(content.pieces, &style.strong_number)?
            .blank(&style.entry_text)?;
    }
    pen.end_table(heading, &SLIP)?;
    pen.row()?
        .skip(2)
        .plain("Total", &style.strong)?
        .number(slip.pieces(), &style.strong_number)?;
    pen.end_row()?;
    let footer = super::footer_of(&kit, when);
    pen.print(Some(heading), &footer)
}
