//! The form that the lines of a text share where nothing cuts them into cells: what stands in front of the
//! item, and by what signs the count is told from it. It is worked out from all lines: a sign that one line alone
//! bears may be anything, one that most bear in the same place parts item and count (common practice, no
//! source).
//!
//! `TF-100 x2 girder`, `24 // hex nut // galv`, `Roof panel (3)`, `Shelf.......5`, `Slat: 9 st.`, `posts 4 of 4`

use std::collections::{BTreeSet, HashMap};

use super::{
    super::{count, role::Role},
    shape,
};
use crate::{
    columns::{Meaning, furniture, heading},
    notation::Notation,
    source::{CellKind, Row},
    words::quoted,
};

/// So many lines make a form.
const ENOUGH: usize = 3;

/// A longer figure is no count.
const FIGURES: usize = 5;

/// Measures: a figure in front of one is a size.
const MEASURES: &[&str] = &[
    "mm", "cm", "m", "in", "inch", "ft", "kg", "g", "lb", "l", "ml", "m2", "t", "h", "hr", "min",
    "s",
];

/// The form of the lines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Parting {
    role: Role,
    /// Each begins with a number of the maker's.
    coded: bool,
    way: Way,
}

#[derive(Debug, Clone, PartialEq, Eq, Hash)]
enum Way {
    /// Several fields, and what stands between them.
    Fields(String),
    /// The count in front, what stands before it and behind.
    Front { lead: String, sign: String },
    /// The count behind, the sign before it and the word or bracket behind.
    Behind { sign: String, tail: String },
    /// So many of as many as should be there.
    Of,
    /// Two figures by the same two words, the second no more than the first: `out 10  in 8`.
    Both(String, String),
}

/// A line in parts.
struct Parts<'t> {
    way: Way,
    item: &'t str,
    count: &'t str,
    /// What stands behind it and is no unit: `12   bag A`.
    rest: &'t str,
}

impl Parting {
    /// The form of the first rows of a text.
    pub fn of(head: &[Row], role: Role, notation: Notation) -> Option<Parting> {
        let texts: Vec<String> = head
            .iter()
            .map(bare)
            .filter(|text| !text.is_empty())
            .collect();
        let is_most = |lines: usize| lines >= ENOUGH && lines * 2 > texts.len();
        let codes: BTreeSet<&str> = texts
            .iter()
            .filter_map(|text| Some(coded(text, notation)?.0))
            .collect();
        let is_coded = is_most(codes.len());
        let bodies: Vec<&str> = match is_coded {
            true => (texts.iter().filter_map(|text| coded(text, notation)))
                .map(|(_, rest)| rest)
                .collect(),
            false => texts.iter().map(|text| &**text).collect(),
        };
        let mut ways: HashMap<Way, Vec<(&str, &str)>> = HashMap::new();
        for body in &bodies {
            let sized = ends_in_size(body);
            let ways_of = ways_of(body, role, notation);
            for parts in ways_of.filter(|parts| !(sized && parts.way == Way::Of)) {
                let lines = ways.entry(parts.way).or_default();
                lines.push((parts.item, parts.count));
            }
        }
        ways.retain(|way, lines| is_most(lines.len()) && way.is_sound(lines));
        let fields = |way: &Way| matches!(way, Way::Fields(_));
        let mut found: Vec<(Way, usize)> = ways
            .into_iter()
            .map(|(way, lines)| (way, lines.len()))
            .collect();
        if found.iter().any(|(way, _)| fields(way)) {
            found.retain(|(way, _)| fields(way));
        }
        found.sort_by_key(|(_, lines)| std::cmp::Reverse(*lines));
        match found.as_slice() {
            [(way, _)] => Some(way.clone()),
            [(way, lines), (_, next), ..] if lines > next => Some(way.clone()),
            _ => None,
        }
        .map(|way| Parting {
            role,
            coded: is_coded,
            way,
        })
    }

    /// True where the sign says of itself that a figure counts: a colon may stand before a length.
    pub fn is_sure(&self) -> bool {
        match &self.way {
            Way::Fields(_) | Way::Of | Way::Both(..) | Way::Front { .. } => true,
            Way::Behind { sign, tail } => {
                matches!(sign.as_str(), "x" | "(") || !tail.is_empty() || self.coded
            }
        }
    }

    /// True for lines that say how many of as many as should be there, which titles do not.
    pub fn is_of_many(&self) -> bool {
        matches!(self.way, Way::Of | Way::Both(..))
    }

    /// A line cut into the maker's number, if they have one, the item and its count; or at what stands between
    /// its fields. `None` where it is of another form.
    pub fn part(&self, row: &Row, notation: Notation) -> Option<Row> {
        let text = bare(row);
        let (code, body) = match self.coded {
            true => coded(&text, notation).map(|(code, rest)| (Some(code), rest))?,
            false => (None, &*text),
        };
        let parts = ways_of(body, self.role, notation)
            .find(|parts| self.is_way(parts, notation))
            .or_else(|| self.without_dots(row))?;
        let mut parted = Row::default();
        parted.start(row.number);
        let mut push = |cell: &str| parted.push(cell.trim(), CellKind::Text);
        code.into_iter().for_each(&mut push);
        match &self.way {
            Way::Fields(between) => body.split(&**between).for_each(&mut push),
            Way::Front { .. } => [parts.count, parts.item].into_iter().for_each(&mut push),
            Way::Behind { .. } => {
                push(parts.item);
                match with_unit(&parts).filter(|count| counts(count, notation)) {
                    Some(count) => push(&count),
                    None => push(parts.count),
                }
                if !parts.rest.is_empty() {
                    push(parts.rest);
                }
            }
            Way::Of | Way::Both(..) => [parts.item, parts.count].into_iter().for_each(&mut push),
        }
        Some(parted)
    }

    /// A line among dotted ones that is too long for dots: its count ends the cell in front of what is said behind.
    fn without_dots<'r>(&self, row: &'r Row) -> Option<Parts<'r>> {
        let dotted = matches!(&self.way, Way::Behind { sign, .. } if sign == "..");
        let mut cells = row.cells().map(|(cell, _)| cell.trim());
        let (item, count) = split_figure(cells.next().filter(|_| dotted && !self.coded)?)?;
        let rest = cells
            .next()
            .filter(|rest| rest.contains(char::is_alphabetic))?;
        let last = item.trim_end().rsplit(' ').next()?;
        let is_word = last.len() > 1 && last.chars().all(char::is_alphabetic);
        is_word.then(|| Parts {
            way: self.way.clone(),
            item,
            count,
            rest,
        })
    }

    /// True where a line is parted as the others are. Its unit may be another that is known.
    fn is_way(&self, parts: &Parts, notation: Notation) -> bool {
        let sign = |way: &Way| match way {
            Way::Behind { sign, .. } => Some(sign.clone()),
            _ => None,
        };
        let counts = || with_unit(parts).is_some_and(|count| counts(&count, notation));
        parts.way == self.way
            || (sign(&parts.way).is_some() && sign(&parts.way) == sign(&self.way) && counts())
    }

    /// True where a line bears the signs of the others, and yet no count.
    pub fn is_borne_by(&self, text: &str, notation: Notation) -> bool {
        let text = furniture::without_bullet(text);
        let signed = match &self.way {
            Way::Fields(between) => text.contains(between.trim()),
            Way::Behind { sign, .. } if sign == "x" => text.contains(" \u{d7}"),
            Way::Behind { sign, .. } if sign == ".." => text.contains("..."),
            Way::Behind { sign, .. } if matches!(sign.as_str(), ":" | "=") => {
                text.contains(&format!("{sign} "))
            }
            Way::Both(due, _) => text.split(' ').any(|word| word.eq_ignore_ascii_case(due)),
            Way::Behind { .. } | Way::Front { .. } | Way::Of => false,
        };
        signed || (self.coded && coded(&text, notation).is_some())
    }

    /// What is said of it beside the list.
    pub fn told(&self) -> String {
        let code = if self.coded {
            "the maker's number, "
        } else {
            ""
        };
        match &self.way {
            Way::Fields(between) => {
                format!(
                    "each line: {code}fields with {} between",
                    quoted(&[between.trim()])
                )
            }
            Way::Front { lead, sign } => {
                let signs: Vec<&str> = [&**lead, &**sign]
                    .into_iter()
                    .filter(|sign| !sign.is_empty())
                    .collect();
                format!(
                    "each line: {code}how many, by {}, and the item",
                    quoted(&signs)
                )
            }
            Way::Behind { sign, tail } => {
                let signs: Vec<&str> = [&**sign, &**tail]
                    .into_iter()
                    .filter(|sign| !sign.is_empty())
                    .collect();
                format!(
                    "each line: {code}the item and how many, by {}",
                    quoted(&signs)
                )
            }
            Way::Of => format!("each line: {code}the item, and how many of how many"),
            Way::Both(due, there) => format!(
                "each line: {code}the item, and by {} how many; what \"{there}\" says is taken",
                quoted(&[&**due, &**there])
            ),
        }
    }
}

impl Way {
    /// False where what the lines have there is no count: a number of the line, or the second figure of a size.
    fn is_sound(&self, lines: &[(&str, &str)]) -> bool {
        match self {
            Way::Front { .. } => {
                let counts: Vec<&str> = lines.iter().map(|(_, count)| *count).collect();
                !shape::runs(&counts)
            }
            // `M8 x70` is a size, `legs x70` and `M8x40 x70` are none.
            Way::Behind { sign, .. } if sign == "x" => {
                let whole = |(item, _): &&(&str, &str)| {
                    let last = item.rsplit(' ').next().unwrap_or_default();
                    !last.contains(|c: char| c.is_ascii_digit()) || joins_figures(last)
                };
                lines.iter().filter(whole).count() >= ENOUGH
            }
            // Bags are named so, too: `bag 2 of 3`.
            Way::Of | Way::Both(..) => {
                let items: BTreeSet<&str> = lines.iter().map(|(item, _)| *item).collect();
                items.len() == lines.len()
            }
            Way::Fields(_) | Way::Behind { .. } => true,
        }
    }
}

/// True for a figure, alone or with a unit that is known.
fn counts(text: &str, notation: Notation) -> bool {
    let unit = text.trim_start_matches(|c: char| c.is_ascii_digit()).trim();
    count::is_count(text, notation) || count::is_unit(unit)
}

/// A count with its unit.
fn with_unit(parts: &Parts) -> Option<String> {
    match &parts.way {
        Way::Behind { tail, .. } => Some(format!("{} {tail}", parts.count)),
        _ => None,
    }
}

/// True where a row's text begins with a bullet that is no figure.
pub(super) fn has_bullet(row: &Row) -> bool {
    let first = row.cells().next().map_or("", |(text, _)| text.trim());
    furniture::without_bullet(first).len() < first.len()
        && !first
            .starts_with(|c: char| c.is_alphanumeric() || matches!(c, '>' | '(' | '*' | '_' | '`'))
}

/// The words of a row, without a bullet.
fn bare(row: &Row) -> String {
    let mut text = String::new();
    row.join_into(&mut text);
    furniture::without_bullet(&text).trim().to_owned()
}

/// A number of the maker's in front, and the rest.
fn coded(text: &str, notation: Notation) -> Option<(&str, &str)> {
    let (code, rest) = text.split_once(' ')?;
    let code = code.trim_end_matches([':', ',']);
    shape::is_makers_number(code, notation).then(|| (code, rest.trim_start()))
}

/// The ways in which a line can be parted.
fn ways_of(body: &str, role: Role, notation: Notation) -> impl Iterator<Item = Parts<'_>> {
    let of = match role {
        Role::Counted => so_many_of(body).or_else(|| due_and_there(body)),
        Role::Shipped | Role::LeftOver => so_many_of(body),
        Role::Required | Role::Compared | Role::Stock => None,
    };
    let behind = match &of {
        Some(_) => None,
        None => behind_dots(body).or_else(|| behind(body, notation)),
    };
    fields(body)
        .into_iter()
        .chain(front(body))
        .chain(behind)
        .chain(of)
}

/// Marks that stand between fields.
fn is_mark(c: char) -> bool {
    matches!(
        c,
        ':' | '-'
            | '\u{2013}'
            | '\u{2014}'
            | '='
            | '/'
            | '|'
            | '('
            | '['
            | '.'
            | '_'
            | '\u{2026}'
            | '~'
            | '>'
            | '*'
            | '\u{2192}'
            | ','
            | ';'
            | '\u{d7}'
    )
}

/// Fields with the same mark between, two times and more.
fn fields(body: &str) -> Option<Parts<'_>> {
    const BETWEEN: &[&str] = &[
        " // ",
        " | ",
        " / ",
        " ; ",
        "; ",
        " ~ ",
        " > ",
        " \u{2192} ",
        " -- ",
    ];
    let between = BETWEEN
        .iter()
        .find(|mark| body.matches(**mark).count() > 1)?;
    Some(Parts {
        way: Way::Fields((*between).to_owned()),
        item: body,
        count: "",
        rest: "",
    })
}

/// The count in front: `24 // nuts`, `x24 nuts`.
fn front(body: &str) -> Option<Parts<'_>> {
    let bare = body.trim_start_matches(['x', 'X', '\u{d7}', '(']);
    let lead = &body[..body.len() - bare.len()];
    let figures = bare.bytes().take_while(u8::is_ascii_digit).count();
    let (count, rest) = bare.split_at(figures);
    let behind = rest.trim_start_matches(|c: char| is_mark(c) || c == ')' || c.is_whitespace());
    let sign = rest[..rest.len() - behind.len()].trim();
    let apart = behind.len() < rest.len() && rest[..rest.len() - behind.len()].ends_with(' ');
    let signed = match (lead, sign) {
        ("", "") => false,
        ("(", sign) => sign.starts_with(')'),
        ("", "." | "-" | "\u{d7}") => false,
        ("", sign) => !sign.contains(')'),
        ("x" | "X" | "\u{d7}", sign) => sign.is_empty(),
        _ => false,
    };
    (is_figure(count) && apart && signed && behind.contains(char::is_alphabetic)).then(|| Parts {
        way: Way::Front {
            lead: lead.to_lowercase().replace('\u{d7}', "x"),
            sign: sign.to_owned(),
        },
        item: behind,
        count,
        rest: "",
    })
}

/// The count behind: `nuts (24)`, `nuts \u{d7}24`, `nuts = 24`, `nuts: 24 st.`
fn behind(body: &str, notation: Notation) -> Option<Parts<'_>> {
    let end = body.rfind(|c: char| c.is_ascii_digit())? + 1;
    let tail = body[end..].trim().trim_end_matches('.').to_lowercase();
    let words = body[..end].trim_end_matches(|c: char| c.is_ascii_digit());
    let count = &body[words.len()..end];
    let stem = words.trim_end();
    let (item, sign) = match stem.strip_suffix(['x', 'X']) {
        Some(item) if item.ends_with(' ') && stem.len() == words.len() => (item, "x".to_owned()),
        _ => {
            let item = stem.trim_end_matches(is_mark);
            (item, sign_of(&stem[item.len()..]))
        }
    };
    let gap = words.len() > stem.len();
    let item_ends = item.ends_with(char::is_whitespace);
    let signed = match sign.as_str() {
        "" => gap && count::is_unit(&tail) && !item.ends_with([' ', 'x', 'X']),
        "x" => !gap && item_ends,
        "(" | "[" => item_ends && tail.ends_with([')', ']']),
        ":" | "=" | "," | ";" => gap,
        ".." | "_" | "\u{2026}" => true,
        _ => gap && item_ends,
    };
    // `leg tubes qty: 4`
    let labelled = item.rsplit_once(' ').filter(|(_, label)| {
        heading::recognise(label).is_some_and(|of| of.meaning == Meaning::Quantity)
    });
    let item = labelled.map_or(item, |(rest, _)| rest.trim_end_matches(is_mark));
    let tail_word = tail.trim_end_matches([')', ']']).trim_end_matches('.');
    let counted = tail_word.is_empty()
        || (!MEASURES.contains(&tail_word)
            && tail_word.chars().all(char::is_alphabetic)
            && (counts(&format!("{count} {tail_word}"), notation)
                || (!sign.is_empty() && tail_word.chars().count() <= 3)));
    let item = item.trim_end();
    (is_figure(count) && signed && counted && item.contains(char::is_alphabetic)).then(|| Parts {
        way: Way::Behind {
            sign,
            tail: tail_word.to_owned(),
        },
        item,
        count,
        rest: "",
    })
}

/// The count that dots lead to, and what is said behind it: `Hex nut ........ 12   bag A`.
fn behind_dots(body: &str) -> Option<Parts<'_>> {
    const DOTS: &str = "...";
    let (item, led) = body.split_once(DOTS)?;
    let led = led.trim_start_matches(['.', ' ']);
    let figures = led.bytes().take_while(u8::is_ascii_digit).count();
    let (count, rest) = led.split_at(figures);
    let words = rest.trim_matches(|c: char| c.is_whitespace() || ".()[]".contains(c));
    let apart = rest.starts_with([' ', '(']) && words.contains(char::is_alphabetic);
    (is_figure(count) && apart && !count::is_unit(words) && item.contains(char::is_alphabetic))
        .then(|| Parts {
            way: Way::Behind {
                sign: "..".to_owned(),
                tail: String::new(),
            },
            item: item.trim_end_matches(['.', ' ']),
            count,
            rest: words,
        })
}

/// The marks before a count as one sign, whatever their number.
fn sign_of(marks: &str) -> String {
    match marks {
        "\u{d7}" => "x".to_owned(),
        dots if dots.len() > 1 && dots.chars().all(|c| c == '.') => "..".to_owned(),
        lines if lines.chars().all(|c| c == '_') && !lines.is_empty() => "_".to_owned(),
        other => other.to_owned(),
    }
}

/// `posts 4 of 4`, `posts 4/4`.
fn so_many_of(body: &str) -> Option<Parts<'_>> {
    let (rest, due) = split_figure(body)?;
    let rest = rest.trim_end();
    let rest = rest
        .strip_suffix(" of")
        .or_else(|| rest.strip_suffix('/'))?;
    let (item, count) = split_figure(rest.trim_end())?;
    let item = item.trim_end_matches(|c: char| is_mark(c) || c.is_whitespace());
    let counted = ends_in_size(body) && item.starts_with(|c: char| c.is_ascii_digit());
    let fits = !counted && count.parse::<u64>().ok()? <= due.parse().ok()?;
    (fits && rest.len() < body.len() && item.contains(char::is_alphabetic)).then_some(Parts {
        way: Way::Of,
        item,
        count,
        rest: "",
    })
}

/// True where the last word is a fraction of the inch rule, which is a size as well: `8 nuts 1/2`.
fn ends_in_size(body: &str) -> bool {
    let last = body.rsplit(' ').next().unwrap_or_default();
    let figures = last
        .split_once('/')
        .and_then(|(over, under)| Some((over.parse::<u8>().ok()?, under.parse::<u8>().ok()?)));
    figures.is_some_and(|(over, under)| {
        over < under && over % 2 == 1 && matches!(under, 2 | 4 | 8 | 16 | 32)
    })
}

/// `Ridge joint ..... out 5  in 4`, with words that head no column: those of headings are read by themselves.
fn due_and_there(body: &str) -> Option<Parts<'_>> {
    let labelled = |text| -> Option<(&str, &str, &str)> {
        let (words, figure) = split_figure(text)?;
        let words = words.trim_end_matches(|c: char| is_mark(c) || c.is_whitespace());
        let rest = words.trim_end_matches(char::is_alphabetic);
        let label = &words[rest.len()..];
        let apart = rest.ends_with([' ', '.', ',', ';']);
        (apart && label.len() > 1).then_some((rest, label, figure))
    };
    let (rest, there, count) = labelled(body)?;
    let (item, due, first) = labelled(rest.trim_end())?;
    let item = item.trim_end_matches(|c: char| is_mark(c) || c.is_whitespace());
    let known = [due, there]
        .iter()
        .any(|label| heading::recognise(label).is_some());
    let fits = count.parse::<u64>().ok()? <= first.parse().ok()?;
    (fits && !known && due != there && item.contains(char::is_alphabetic)).then(|| Parts {
        way: Way::Both(due.to_lowercase(), there.to_lowercase()),
        item,
        count,
        rest: "",
    })
}

/// A figure behind words and a blank, or a mark.
fn split_figure(text: &str) -> Option<(&str, &str)> {
    let words = text.trim_end_matches(|c: char| c.is_ascii_digit());
    let figure = &text[words.len()..];
    let apart = words.ends_with([' ', ':', '/', '=', '(']);
    (apart && !figure.is_empty() && figure.len() <= FIGURES).then_some((words, figure))
}

/// A whole number that may count: lists write no zero before one.
fn is_figure(text: &str) -> bool {
    (1..=FIGURES).contains(&text.len())
        && (text == "0" || !text.starts_with('0'))
        && text.bytes().all(|b| b.is_ascii_digit())
}

/// True for figures joined by an `x`: `60\u{d7}40`, `M8x35`.
fn joins_figures(word: &str) -> bool {
    let figure = |c: char| c.is_ascii_digit();
    word.match_indices(['x', 'X', '\u{d7}'])
        .any(|(at, x)| word[..at].ends_with(figure) && word[at + x.len()..].starts_with(figure))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `expected`: the cells of each line that is of the form.
    #[track_caller]
    fn case(role: Role, lines: &[&str], expected: &[&[&str]]) {
        let row = |line: &&str| {
            let mut row = Row::default();
            row.push(line, CellKind::Text);
            row
        };
        let head: Vec<Row> = lines.iter().map(row).collect();
        let notation = Notation::default();
        let form = Parting::of(&head, role, notation);
        let parts = |row: &Row| form.as_ref()?.part(row, notation);
        let cells = |row: Row| row.cells().map(|(text, _)| text.to_owned()).collect();
        let found: Vec<Vec<String>> = head.iter().filter_map(parts).map(cells).collect();
        assert_eq!(found, expected);
    }

    // Common practice, no source: a hand parts its items and counts alike.
    #[test]
    fn signs_that_most_lines_bear() {
        let required = |lines: &[&str], expected: &[&[&str]]| case(Role::Required, lines, expected);
        required(
            &[
                "Kit",
                "TF-100 x2 girder, left",
                "TF-120 x14 deck board 1200",
                "TF-130 x28 M10x70 bolt",
            ],
            &[
                &["TF-100", "2", "girder, left"],
                &["TF-120", "14", "deck board 1200"],
                &["TF-130", "28", "M10x70 bolt"],
            ],
        );
        required(
            &[
                "24 // 5/8 hex nut // galv",
                "8 // stringer // black",
                "2 // rail 8 ft // oak",
                "end",
            ],
            &[
                &["24", "5/8 hex nut", "galv"],
                &["8", "stringer", "black"],
                &["2", "rail 8 ft", "oak"],
            ],
        );
        required(
            &[
                "- Roof panel (3)",
                "- M8 nut (20)",
                "- Strip 2400 (2)",
                "- Strip, spare",
            ],
            &[
                &["Roof panel", "3"],
                &["M8 nut", "20"],
                &["Strip 2400", "2"],
            ],
        );
        required(
            &[
                "gate leaf \u{d7}2",
                "post cap 60\u{d7}40 \u{d7}12",
                "hinge M20 \u{d7}4",
                "latch \u{d7}1",
            ],
            &[
                &["gate leaf", "2"],
                &["post cap 60\u{d7}40", "12"],
                &["hinge M20", "4"],
                &["latch", "1"],
            ],
        );
        required(
            &["Shelf.......5", "Bracket ........ 10", "Foot....4"],
            &[&["Shelf", "5"], &["Bracket", "10"], &["Foot", "4"]],
        );
        required(
            &[
                "Arm-rest left: 1 szt.",
                "Slat with 2 holes: 9 szt.",
                "Nut M8: 10 szt.",
            ],
            &[
                &["Arm-rest left", "1"],
                &["Slat with 2 holes", "9"],
                &["Nut M8", "10"],
            ],
        );
        case(
            Role::Counted,
            &[
                "posts 4 of 4",
                "rafters 5 of 6",
                "bolts M12x120: 20/24",
                "ridge cap 0 of 1",
            ],
            &[
                &["posts", "4"],
                &["rafters", "5"],
                &["bolts M12x120", "20"],
                &["ridge cap", "0"],
            ],
        );
    }

    // How hire firms note what comes back: common practice, no source.
    #[test]
    fn what_went_out_and_came_back() {
        case(
            Role::Counted,
            &[
                "Tent leg 2.3 m ........ out 10   in 10",
                "Ridge joint ........... out 5    in 4",
                "Lock pin 8 x 60 ....... out 40   in 37",
                "Guy rope .............. out 12   in a bundle",
            ],
            &[
                &["Tent leg 2.3 m", "10"],
                &["Ridge joint", "4"],
                &["Lock pin 8 x 60", "37"],
            ],
        );
    }

    #[test]
    fn figures_that_may_be_anything() {
        for lines in [
            // Sizes
            &["bolt M8 x70", "bolt M8 x80", "bolt M10 x90"][..],
            &["rail 1200 mm", "rail 900 mm", "post 2100 mm"],
            &["post - 90 mm", "rail - 45 mm", "slat - 20 mm"],
            // Numbers of lines
            &["1: posts", "2: rails", "3: slats"],
            &["(1) posts", "(2) rails", "(3) slats"],
            // Each by itself
            &["posts (4)", "rails x8", "6 // slats"],
            &["bag 1 of 3", "bag 1 of 3", "bag 1 of 3"],
        ] {
            case(Role::Required, lines, &[]);
        }
    }
}
