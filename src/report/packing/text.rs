//! Kits packed from stock, on the terminal.

use std::io::{self, Write};

use super::packs::{NO_BIN, Packs, amount, next_lacks};
use crate::report::{wording, wrap::wrapped};

/// Rows of the pull sheet and of what is to be ordered that the terminal shows.
const FEW: usize = 12;

/// Writes the answer for a person.
///
/// # Errors
/// What the writer reports.
pub fn text(packs: &Packs, mut out: impl Write) -> io::Result<()> {
    let packing = packs.packing;
    wrapped(&mut out, "", 0, &packs.answer().join(" "))?;
    for (at, order) in packing.orders.iter().enumerate() {
        let (name, file) = &packs.orders[at];
        let head = format!("  {} of {}  ", order.kits, order.wanted);
        let indent = head.chars().count();
        wrapped(&mut out, &head, indent, &format!("{name} ({file})"))?;
        let lacks = next_lacks(order);
        if !lacks.is_empty() {
            let text = format!("the next one lacks {}", lacks.join("; "));
            wrapped(&mut out, &" ".repeat(indent), indent, &text)?;
        }
        for reason in &order.reasons {
            wrapped(
                &mut out,
                &format!("{}? ", " ".repeat(indent)),
                indent + 2,
                reason,
            )?;
        }
    }
    for reason in &packing.reasons {
        wrapped(&mut out, "  ? ", 4, reason)?;
    }
    let mut section = |title: &str, rows: Vec<String>, sheet: &str| -> io::Result<()> {
        writeln!(out)?;
        writeln!(out, "{title}")?;
        for row in rows.iter().take(FEW) {
            wrapped(&mut out, "  - ", 4, row)?;
        }
        match rows.len().checked_sub(FEW + 1) {
            Some(more) => writeln!(out, "  and {} more; see the sheet {sheet}", more + 1),
            None if rows.is_empty() => writeln!(out, "  nothing"),
            None => Ok(()),
        }
    };
    let to_order = packing.to_order.iter().map(|of| {
        let spares = match of.spares {
            0 => String::new(),
            spares => format!(", {spares} of them for spares"),
        };
        match of.pack {
            Some(_) => format!("{}: {}{spares} ({})", of.text, of.pieces(), amount(of)),
            None => format!("{}: {}{spares}", of.text, of.pieces()),
        }
    });
    section(
        "To order, so that every kit can be packed",
        to_order.collect(),
        "To order",
    )?;
    let pull = packing.pull.iter().map(|pull| {
        format!(
            "{}: {} of {}, for {} ({} a kit)",
            pull.bin.as_deref().unwrap_or(NO_BIN),
            pull.take,
            pull.stock,
            packs.order(pull.order),
            pull.each
        )
    });
    section("To pull, in walking order", pull.collect(), "Pull sheet")?;
    writeln!(out)?;
    for caution in wording::CAUTIONS {
        wrapped(&mut out, "", 0, caution)?;
    }
    Ok(())
}
