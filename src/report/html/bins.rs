//! The trays of bins.

use std::io::{self, Write};

use super::{
    Page,
    markup::{band, bullets, escaped},
};
use crate::report::{bin_map::BinMap, wording};

pub fn write(page: &Page<'_>, out: &mut dyn Write) -> io::Result<()> {
    if page.layout.bins.is_empty() {
        return out.write_all(b"<p>No bins are laid out.</p>\n");
    }
    writeln!(
        out,
        "<p>A bin's address is tray, row letter, column number. {}</p>",
        escaped(&wording::apart(page.layout))
    )?;
    let map = BinMap::of(page.account, page.layout);
    for (number, tray) in (1..).zip(&page.layout.trays) {
        writeln!(
            out,
            "<h3>{}</h3>\n<ol class=\"tray\" style=\"--columns:{}\">",
            escaped(&wording::tray(page.layout, number as usize)),
            tray.columns
        )?;
        for row in 1..=tray.rows {
            for column in 1..=tray.columns {
                let Some(bin) = map.at(number, row, column) else {
                    let letters = wording::row_letters(row);
                    writeln!(
                        out,
                        "<li class=\"empty\">{number}-{letters}{column} empty</li>"
                    )?;
                    continue;
                };
                let face = map.face(bin);
                write!(
                    out,
                    "<li><div class=\"band\" style=\"{}\">{}</div><p class=\"size\">{}</p>\
                     <p>{}</p><p><strong>{}</strong></p>",
                    band(face.stage),
                    escaped(&face.band),
                    escaped(&face.size),
                    escaped(&face.kind),
                    escaped(&face.count)
                )?;
                for words in [&face.mark, &face.foot] {
                    if !words.is_empty() {
                        write!(out, "<p>{}</p>", escaped(words))?;
                    }
                }
                out.write_all(b"</li>\n")?;
            }
        }
        out.write_all(b"</ol>\n")?;
    }
    let neighbours = page.layout.neighbours.iter();
    let beside = page.layout.beside.iter();
    let notes = neighbours
        .map(|pair| wording::neighbours(page.account, page.layout, pair))
        .chain(beside.map(|b| format!("Beside the trays: {}", wording::beside(page.account, b))));
    bullets(out, notes)?;
    Ok(())
}
