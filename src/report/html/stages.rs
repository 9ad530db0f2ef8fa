//! Stage by stage: what is needed, what is there, where it lies.

use std::io::{self, Write};

use super::{
    Page,
    markup::{MOST, band, end_table, escaped, table},
};
use crate::{
    report::{
        wording,
        workbook::by_stage::{self, State},
    },
    settle::Verdict,
};

pub fn write(page: &Page<'_>, out: &mut dyn Write) -> io::Result<()> {
    let account = page.account;
    let places = wording::Places::of(page.layout);
    let entries = by_stage::entries(account);
    let short = wording::stages_short(account);
    for (index, stage) in account.stages.iter().enumerate() {
        writeln!(
            out,
            "<h3><span class=\"band\" style=\"{}\">{}</span> {}: {}</h3>",
            band(index),
            index + 1,
            escaped(wording::stage_name(account, index)),
            match (stage.ready, short[index]) {
                (Verdict::No, short @ 1..) => {
                    format!("{}, {}", State::Short, crate::words::count(short, "piece"))
                }
                _ => wording::standing(stage).to_owned(),
            }
        )?;
        if stage.ready == Verdict::CannotSay {
            let why = stage.reasons.join("; ");
            writeln!(out, "<p class=\"quiet\">{}</p>", escaped(&why))?;
        }
        let of_stage: Vec<_> = entries.iter().filter(|(_, s)| s.stage == index).collect();
        if of_stage.is_empty() {
            out.write_all(b"<p>Needs nothing.</p>\n")?;
            continue;
        }
        table(out, &["Required", "Covered"])?;
        for (item, share) in of_stage.iter().copied().take(MOST) {
            let account = &account.items[*item];
            let mut about = State::of(account, share).as_str().to_owned();
            let bins = places.named(*item, index);
            if !bins.is_empty() {
                about.push_str(&format!(" \u{b7} bin {bins}"));
            }
            let bags = account.bags_for(share.stage);
            if !bags.is_empty() {
                let bags = wording::bags("bag", &bags.join(", "));
                about.push_str(&format!(" \u{b7} {bags}"));
            }
            for draw in wording::draws(account, share.stage) {
                about.push_str(&format!(" \u{b7} {draw}"));
            }
            for words in wording::stand_ins(page.job, account, index) {
                about.push_str(&format!(" \u{b7} {words}"));
            }
            for doubt in wording::doubts(account) {
                about.push_str(&format!(" \u{b7} {doubt}"));
            }
            writeln!(
                out,
                "<tr><td>{}<span class=\"quiet\">{}</span></td><td class=\"n\">{}</td>\
                 <td class=\"n\">{}</td></tr>",
                escaped(&account.text),
                escaped(&about),
                share.required,
                share.required - share.short
            )?;
        }
        end_table(out, of_stage.len())?;
    }
    Ok(())
}
