use super::{markup::escaped, *};
use crate::report::fixture::{self, Fixture};

fn page(f: &Fixture) -> String {
    let page = Page {
        job: &f.job,
        lists: &f.lists,
        account: &f.account,
        layout: &f.layout,
        audit: &f.audit,
        when: "2026-03-14 09:26".to_owned(),
    };
    let mut out = Vec::new();
    page.write(&mut out).unwrap();
    String::from_utf8(out).unwrap()
}

#[test]
fn the_answer_comes_first() {
    let page = page(&fixture::footbridge());
    let answer = page.find("■ NO").unwrap();
    for later in [
        "id=\"missing\"",
        "id=\"stages\"",
        "id=\"bins\"",
        "id=\"check\"",
        "id=\"gauge\"",
    ] {
        assert!(answer < page.find(later).unwrap(), "{later}");
    }
    assert!(page.contains("The build stops at stage 2 of 3, Rails."));
    // Of 16 bolts 4 are short, of 24 in the whole job.
    assert!(page.contains("<td class=\"n\">16</td><td class=\"n\"><strong>4</strong></td>"));
    assert!(page.contains("in the whole job: required 24, shipped 24, counted 20"));
    let stages = &page[page.find("id=\"stages\"").unwrap()..];
    let covered = stages.split_once("<td class=\"n\">16</td>").unwrap().1;
    assert!(covered.trim_start().starts_with("<td class=\"n\">12</td>"));
    for caution in wording::CAUTIONS {
        assert!(page.contains(&escaped(caution).to_string()), "{caution}");
    }
}

/// Nothing is fetched and nothing runs.
#[test]
fn the_page_stands_by_itself() {
    let page = page(&fixture::footbridge());
    for outward in [
        "<script", "http:", "https:", "src=", "url(", "@import", "<link",
    ] {
        assert!(!page.contains(outward), "{outward}");
    }
}

#[test]
fn input_never_becomes_markup() {
    let payload = "<script>alert(\"1\")</script>&amp;'\u{0}";
    let mut f = fixture::footbridge();
    f.job.name = payload.to_owned();
    f.account.reasons = vec![payload.to_owned()];
    f.account.stages[1].name = payload.to_owned();
    let item = &mut f.account.items[0];
    (item.text, item.bags) = (payload.to_owned(), vec![payload.into()]);
    item.findings[0].note = payload.to_owned();
    f.lists[0].file = payload.to_owned();
    let list = &mut f.lists[0];
    list.lines[4].text = list.text.push(payload);
    let page = page(&f);
    assert!(!page.contains("<script"));
    assert!(!page.contains('\u{0}'));
    assert!(
        page.matches("&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt;&amp;amp;&#39;")
            .count()
            > 6
    );
}

/// A 1/2 x 6 hex bolt: 152.4 mm under a head 11/32 in high, 3/4 in across (ASME B18.2.1).
#[test]
fn bolts_are_drawn_at_their_size() {
    let page = page(&fixture::footbridge());
    assert!(page.contains("width=\"180.00mm\""));
    assert!(page.contains("x=\"8.733\" y=\"3.675\" width=\"152.400\" height=\"12.700\""));
    assert!(page.contains("width=\"8.733\" height=\"19.050\""));
}
