//! Sheets of one workbook that say the same thing twice: a sheet of totals, an older copy.
//!
//! Sheets are compared by what they ask for in all, item by item. What is plainly a sheet of totals, or
//! a copy by its name, is not added again, and its figures check the rest. Two sheets that merely ask
//! for the same are not: two sides of a structure do. Where that is not plain, it is asked: figures that
//! agree may settle it, items of both are enough to ask, since figures change from one state of a list to the next.

use std::{collections::BTreeMap, sync::LazyLock};

use indexmap::IndexMap;
use regex::Regex;
use rustc_hash::FxHashMap;

use super::{
    again::{Again, AgainKind, Difference},
    copies::{copies, said_again_below},
    input::SheetUse,
    line::What,
    list::List,
};
use crate::{
    columns::furniture,
    hardware::{Item, PartName, Style},
    words::{count, fold, pattern},
};

/// What was found out about the sheets of a workbook, by their index.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Twice {
    pub again: Vec<(usize, Again)>,
    /// What a person should settle.
    pub questions: Vec<(usize, String)>,
}

/// What a sheet asks for in all.
#[derive(Default)]
struct Sums {
    /// By the place of each item in [`Summed::texts`].
    items: BTreeMap<usize, Sum>,
    /// Stages that its rows name.
    stages: Vec<String>,
}

#[derive(Default, Clone, Copy)]
struct Sum {
    pieces: u64,
    lines: u64,
}

/// What the sheets of a list ask for, and how their items are written, in order.
struct Summed {
    sheets: Vec<Sums>,
    texts: Vec<String>,
}

impl Sums {
    fn add(&mut self, other: &Sums) {
        for (item, more) in &other.items {
            let sum = self.items.entry(*item).or_default();
            sum.pieces = sum.pieces.saturating_add(more.pieces);
            sum.lines += more.lines;
        }
    }

    /// What is left of sums that others are among.
    fn without(&self, others: &Sums) -> Sums {
        let mut items = self.items.clone();
        for (item, less) in &others.items {
            if let Some(sum) = items.get_mut(item) {
                sum.pieces -= less.pieces.min(sum.pieces);
                sum.lines -= less.lines;
            }
        }
        items.retain(|_, sum| sum.lines > 0);
        Sums {
            items,
            stages: Vec::new(),
        }
    }

    fn agrees(&self, other: &Sums, item: usize) -> bool {
        let pieces = |of: &Sums| of.items.get(&item).map(|sum| sum.pieces);
        pieces(self).is_some() && pieces(self) == pieces(other)
    }
}

/// How alike two sheets are.
struct Likeness {
    agree: usize,
    /// Items of both, whatever their figures.
    shared: usize,
    /// Items of either.
    of: usize,
}

impl Likeness {
    fn between(a: &Sums, b: &Sums) -> Likeness {
        let (mut agree, mut both) = (0, 0);
        let mut others = b.items.iter().peekable();
        for (item, sum) in &a.items {
            while others.next_if(|(other, _)| *other < item).is_some() {}
            if let Some((_, other)) = others.next_if(|(other, _)| *other == item) {
                both += 1;
                agree += usize::from(sum.pieces == other.pieces);
            }
        }
        Likeness {
            agree,
            shared: both,
            of: a.items.len() + b.items.len() - both,
        }
    }

    fn is_exact(&self) -> bool {
        self.agree == self.of
    }

    fn is_at_least(&self, parts: usize, of: usize) -> bool {
        self.agree * of >= self.of * parts
    }

    /// Few items are of one alone.
    fn is_of_nearly_the_same(&self) -> bool {
        self.shared * 4 >= self.of * 3
    }

    /// Most items are of both, whatever their figures.
    fn is_of_the_same(&self) -> bool {
        self.shared > 0 && self.shared * 2 >= self.of
    }
}

/// Named as a sheet of totals.
fn is_of_totals(name: &str) -> bool {
    static TOTALS: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)\b(?:summary|totals?|sums?|overview|master|complete|combined|overall|all (?:parts|hardware|items|stages)|hardware list|(?:pick|pack)(?:ing)? list)\b|^\s*all\s*$",
        )
    });
    TOTALS.is_match(name)
}

/// Named as a list, and as none of a part of the kit: `Order list`, `Sheet1`, `Hardware`.
fn is_of_a_list(name: &str) -> bool {
    static LIST: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)^\s*(?:(?:order|parts?|hardware|fasteners?|fixings?|material|bolt|kit|shopping|buying)?\s*(?:list|order|bom)|sheet\s?\d+|hardware|fasteners|fixings|parts|bom|bill of materials?|kit)\s*$",
        )
    });
    LIST.is_match(name)
}

/// Words by which a sheet is no longer the list.
const SUPERSEDED: &str = "old|archived?|superseded|obsolete|previous|prev|do not use";

/// Named as what is no longer the list, or as another of it.
fn is_old(name: &str) -> bool {
    static OLD: LazyLock<Regex> = LazyLock::new(|| {
        pattern(&format!(
            r"(?i)(?:\b|_)(?:{SUPERSEDED}|copy|backup)(?:\b|_)|\(\d+\)\s*$"
        ))
    });
    OLD.is_match(name)
}

fn is_superseded(name: &str) -> bool {
    static OLD: LazyLock<Regex> =
        LazyLock::new(|| pattern(&format!(r"(?i)(?:\b|_)(?:{SUPERSEDED})(?:\b|_)")));
    OLD.is_match(name)
}

/// True for names that differ in nothing but when the list is of and how far it is on: `List 2025` and `List 2026`,
/// `draft` and `final`, `Frame (old)` and `Frame`.
fn are_of_one_list(a: &str, b: &str) -> bool {
    static STATE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(&format!(
            r"(?xi) (?:\b|_) (?:
                {} | drafts? | final | prelim(?:inary)? | updated? | revis(?:ed|ion) | amend(?:ed|ment) | corrected
                | new | latest | current | approved | original | (?:rev | issue | version | v) [\s._]* (?: [a-z] | \d{{1,3}} )
                | \d{{1,4}} [-./] \d{{1,2}} (?: [-./] \d{{1,4}} )? | (?:19|20) \d\d
                | (?: \d{{1,2}} [\s.-]* )?
                  (?: jan(?:uary)? | feb(?:ruary)? | mar(?:ch)? | apr(?:il)? | may | june? | july? | aug(?:ust)?
                    | sept?(?:ember)? | oct(?:ober)? | nov(?:ember)? | dec(?:ember)? )
                  (?: [\s.-]* \d{{1,2}} )?
            ) (?:\b|_)",
            SUPERSEDED.replace(' ', r"\s")
        ))
    });
    let of = |name: &str| {
        // The mark between two words ends one and begins the next.
        let name = name.replace('_', " ");
        let rest = STATE.replace_all(&name, " ");
        let words = rest.split(|c: char| !c.is_alphanumeric());
        let words: Vec<String> = words.filter(|word| !word.is_empty()).map(fold).collect();
        words.join(" ")
    };
    of(a) == of(b)
}

/// The name without its revision, and that.
fn revision(name: &str) -> Option<(String, String)> {
    static REVISION: LazyLock<Regex> = LazyLock::new(|| {
        pattern(r"(?i)[\s_(,-]*\b(?:rev(?:ision)?|issue|v)\.?\s*(?P<rev>[a-z]|\d{1,3})\b\)?")
    });
    let found = REVISION.captures(name)?;
    let rev = found["rev"].to_lowercase();
    // `10` comes after `9`, and a letter after a figure.
    Some((fold(&REVISION.replace(name, "")), format!("{rev:0>3}")))
}

/// True for names by which two sheets are of two places: `Left rail` and `Right rail`, `1 Posts`, `Bag A`.
fn tells_places_apart(a: &str, b: &str) -> bool {
    if are_of_one_list(a, b) {
        return false;
    }
    static PLACE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)\b(?:left|right|north|south|east|west|near|far|front|rear|back|upper|lower|top|bottom|inner|outer|first|second|third|fourth|upstream|downstream)\b",
        )
    });
    let place = |name: &str| PLACE.find(name).map(|found| fold(found.as_str()));
    let is_stage = |name: &str| {
        furniture::stage_title(name).is_some()
            || name.trim().starts_with(|c: char| c.is_ascii_digit())
    };
    let are_containers =
        matches!((furniture::container(a), furniture::container(b)), (Some(a), Some(b)) if a != b);
    are_containers
        || (is_stage(a) && is_stage(b))
        || matches!((place(a), place(b)), (Some(a), Some(b)) if a != b)
}

/// Compares the sheets that were read. `told`: what the job says of sheets, by folded name.
pub fn find(list: &List, told: &IndexMap<String, SheetUse>) -> Twice {
    let mut found = Twice {
        questions: said_again_below(list),
        ..Twice::default()
    };
    let read = list.sheets.iter().filter(|s| s.passed_over.is_none());
    if read.count() < 2 {
        return found;
    }
    let Summed {
        sheets: sums,
        texts,
    } = sums(list);
    let name = |sheet: usize| list.sheets[sheet].name.as_deref().unwrap_or_default();
    let told = |sheet: usize| told.get(&fold(name(sheet))).copied();
    let mut left: Vec<usize> = (0..sums.len())
        .filter(|&s| !sums[s].items.is_empty())
        .collect();
    let again = |sheet: usize, kind: AgainKind, of: &[usize]| {
        let mut others = Sums::default();
        for &of in of {
            others.add(&sums[of]);
        }
        Again {
            kind,
            of: of.iter().map(|&of| name(of).to_owned()).collect(),
            agree: Likeness::between(&sums[sheet], &others).agree as u64,
            differences: differences(&sums[sheet], &others, &texts),
        }
    };

    let checks: Vec<usize> = (left.iter().copied())
        .filter(|&sheet| told(sheet) == Some(SheetUse::Checks))
        .collect();
    left.retain(|sheet| !checks.contains(sheet));
    for sheet in checks {
        let others = |kind| again(sheet, kind, &left);
        found.again.push((sheet, others(AgainKind::Totals)));
    }

    // Older copies, by their names.
    for sheet in left.clone() {
        if told(sheet).is_some() {
            continue;
        }
        let (own, is_old_itself) = (revision(name(sheet)), is_old(name(sheet)));
        let (hidden, superseded) = (list.sheets[sheet].hidden, is_superseded(name(sheet)));
        if own.is_none() && !is_old_itself && !hidden && !superseded {
            continue;
        }
        let newer = left.iter().copied().find(|&other| {
            let like = Likeness::between(&sums[sheet], &sums[other]);
            let older = match (&own, revision(name(other))) {
                (Some((base, rev)), Some((other, newer))) => *base == other && *rev < newer,
                _ => false,
            };
            let hidden = hidden && !list.sheets[other].hidden && like.is_exact();
            let old = is_old_itself && !is_old(name(other));
            // Figures change from one state of a list to the next; most of its items do not.
            let old_of_it = superseded
                && !is_superseded(name(other))
                && are_of_one_list(name(sheet), name(other));
            let named = older || old_of_it;
            other != sheet
                && (named && like.is_of_the_same() || like.is_at_least(1, 2) && (old || hidden))
        });
        if let Some(newer) = newer {
            found
                .again
                .push((sheet, again(sheet, AgainKind::Copy, &[newer])));
            left.retain(|&other| other != sheet);
        }
    }

    // Copies by what their lines say.
    for (sheet, of) in copies(list, &left, name, tells_places_apart) {
        if told(sheet).is_none() && told(of) != Some(SheetUse::LeftOut) {
            found
                .again
                .push((sheet, again(sheet, AgainKind::Copy, &[of])));
            left.retain(|&other| other != sheet);
        }
    }

    // Sheets of totals: the one that is most surely one first.
    let open = |left: &[usize]| {
        let of = left.iter().copied().filter(|&sheet| told(sheet).is_none());
        of.collect::<Vec<usize>>()
    };
    let has_hidden = list
        .sheets
        .iter()
        .any(|s| s.hidden && s.passed_over.is_some());
    let named: Vec<bool> = (0..sums.len())
        .map(|sheet| is_of_totals(name(sheet)))
        .collect();
    while let Some((sheet, rest, sure)) =
        totals(&open(&left), &left, has_hidden, &sums, &name, &named)
    {
        if !sure {
            let like = again(sheet, AgainKind::Totals, &rest);
            found.questions.push((
                sheet,
                format!(
                    "sheet {} may be the totals of the others ({}), and is counted beside them: {}",
                    name(sheet),
                    like.compared(),
                    how_to_say("if so", name(sheet), SheetUse::Checks),
                ),
            ));
            break;
        }
        found
            .again
            .push((sheet, again(sheet, AgainKind::Totals, &rest)));
        left.retain(|&other| other != sheet);
    }

    // Sheets that ask for the same, and nothing tells why.
    for (at, &second) in left.iter().enumerate() {
        let same = left[..at].iter().find_map(|&first| {
            let like = Likeness::between(&sums[first], &sums[second]);
            let alike = like.is_exact() || like.of >= 5 && like.is_at_least(4, 5);
            let (one, other) = (&sums[first].stages, &sums[second].stages);
            let same_stage = one.iter().any(|stage| other.contains(stage));
            let other_stages = !one.is_empty() && !other.is_empty() && !same_stage;
            let of_one = || same_stage || are_of_one_list(name(first), name(second));
            let asks = like.agree >= 3 && alike || like.is_of_the_same() && of_one();
            let settled = || {
                other_stages
                    || told(first).is_some()
                    || told(second).is_some()
                    || tells_places_apart(name(first), name(second))
            };
            (asks && !settled()).then_some((first, like))
        });
        let Some((first, like)) = same else {
            continue;
        };
        let others = match like.shared - like.agree {
            0 => String::new(),
            others => format!(" ({others} in another number)"),
        };
        found.questions.push((
            second,
            format!(
                "sheets {} and {} ask for the same {}{others}, and both are counted: {}",
                name(first),
                name(second),
                count(like.shared as u64, "item"),
                how_to_say(
                    "if one is a copy of the other",
                    name(second),
                    SheetUse::LeftOut
                ),
            ),
        ));
    }
    found
}

fn how_to_say(condition: &str, sheet: &str, what: SheetUse) -> String {
    format!(
        "{condition}, write sheets = {{ \"{sheet}\" = \"{what}\" }} beside this file in the job file, else \"{}\"",
        SheetUse::Counted
    )
}

/// The sheet that is most surely one of totals, the sheets that it totals, and whether that is sure. `has_hidden`: it may
/// total sheets that are not read, too. `named`: each that is called so.
fn totals<'a>(
    open: &[usize],
    left: &[usize],
    has_hidden: bool,
    sums: &[Sums],
    name: &impl Fn(usize) -> &'a str,
    are_named: &[bool],
) -> Option<(usize, Vec<usize>, bool)> {
    let mut all = Sums::default();
    for &part in left.iter().filter(|sheet| !are_named[**sheet]) {
        all.add(&sums[part]);
    }
    let candidates = open.iter().filter_map(|&sheet| {
        let named = are_named[sheet];
        let parts = || {
            let parts = left.iter().copied();
            parts.filter(|&other| other != sheet && !are_named[other])
        };
        // A list in two parts is no total of one of them.
        let takes_in = |holds: &dyn Fn(usize) -> bool| {
            let half = |of: usize| {
                let items = &sums[of].items;
                items.keys().filter(|item| holds(**item)).count() * 2 >= items.len()
            };
            parts().all(half)
        };
        let names_all = || takes_in(&|item| sums[sheet].items.contains_key(&item));
        if !named && !names_all() {
            return None;
        }
        let rest: Vec<usize> = parts().collect();
        if rest.is_empty() {
            return None;
        }
        let others = match named {
            true => &all,
            false => &all.without(&sums[sheet]),
        };
        // Two sides of a structure are alike, and what stands between them may be the sum of both.
        let are_unlike = |parts: &[usize]| {
            let first = &sums[parts[0]];
            parts[1..]
                .iter()
                .any(|&of| !Likeness::between(first, &sums[of]).is_exact())
        };
        let once = sums[sheet].items.values().all(|sum| sum.lines == 1);
        let several = others.items.values().filter(|sum| sum.lines > 1).count();
        if !(rest.len() > 1 || once && several > 1 || named && has_hidden) {
            return None;
        }
        let takes_in_all = takes_in(&|item| sums[sheet].agrees(others, item));
        let like = Likeness::between(&sums[sheet], others);
        let near = |parts, of| like.is_at_least(parts, of) && takes_in_all;
        // A name of no part of the kit makes it likelier.
        let of_list = named || is_of_a_list(name(sheet)) && rest.len() > 1;
        let sure = match (like.is_exact(), of_list) {
            (true, true) => like.agree >= if named { 2 } else { 3 },
            // Figures that are sums of several sheets agree by no chance.
            (true, false) => like.agree >= 5 || like.agree >= 3 && several > 0 && are_unlike(&rest),
            (false, true) if named => near(3, 4) && like.agree >= 3,
            (false, true) => near(4, 5) && like.agree >= 4,
            (false, false) => near(4, 5) && like.agree >= 8,
        };
        // Of a name that says nothing, half in like numbers are enough to ask; so is one that is a sum.
        let perhaps = like.is_exact() && (like.agree >= 2 || several > 0)
            || named && like.agree > 0
            || of_list && like.is_of_the_same()
            || like.is_at_least(1, 2) && like.agree >= 2 && like.is_of_nearly_the_same();
        (sure || perhaps).then(|| ((sure, like.is_exact(), named, like.agree), sheet, rest))
    });
    candidates
        .max_by_key(|(rank, ..)| *rank)
        .map(|((sure, ..), sheet, rest)| (sheet, rest, sure))
}

fn differences(sheet: &Sums, others: &Sums, texts: &[String]) -> Vec<Difference> {
    let mut all: BTreeMap<usize, Difference> = BTreeMap::new();
    for (of, here) in [(sheet, true), (others, false)] {
        for (item, sum) in &of.items {
            let entry = all.entry(*item).or_insert_with(|| Difference {
                item: texts[*item].clone(),
                here: 0,
                there: 0,
            });
            match here {
                true => entry.here = sum.pieces,
                false => entry.there = sum.pieces,
            }
        }
    }
    all.into_values().filter(|d| d.here != d.there).collect()
}

/// The hardware that each part number names, by the lines that say both; `None` where they say several.
fn hardware_of_numbers(list: &List) -> FxHashMap<&str, Option<Item>> {
    let mut all: FxHashMap<&str, Option<Item>> = FxHashMap::default();
    for reading in &list.readings {
        if let (None, Some(number)) = (&reading.item.part, &reading.part_number) {
            let item = summed(&reading.item);
            let known = all.entry(number).or_insert_with(|| Some(item.clone()));
            if known.as_ref() != Some(&item) {
                *known = None;
            }
        }
    }
    all
}

/// Hardware as it is summed: grade and finish are left out, for totals leave them out too.
fn summed(item: &Item) -> Item {
    let mut item = item.clone();
    item.thread = item.effective_thread();
    (item.grade, item.finish, item.full_thread) = (None, None, None);
    // A bolt of which no more is said is one with a hexagon head.
    item.style = item.style.filter(|style| *style != Style::Hex);
    item
}

/// What each sheet asks for. A part that bears a number goes by that alone, and is the hardware of that number
/// where it has no name: totals may be by numbers alone.
fn sums(list: &List) -> Summed {
    let mut sheets: Vec<Sums> = list.sheets.iter().map(|_| Sums::default()).collect();
    let mut known: IndexMap<Item, String> = IndexMap::new();
    let hardware = hardware_of_numbers(list);
    for line in &list.lines {
        let (What::Item(reading), Some(each)) = (&line.what, line.quantity) else {
            continue;
        };
        let reading = &list.readings[*reading as usize];
        let mut item = summed(&reading.item);
        if let Some(part) = &mut item.part {
            let number = part.number.take().or_else(|| reading.part_number.clone());
            let named = (number.as_deref().filter(|_| part.description.is_none()))
                .and_then(|number| hardware.get(number)?.as_ref());
            if let Some(named) = named {
                item = named.clone();
            } else if let Some(number) = number {
                **part = PartName {
                    number: Some(number),
                    description: None,
                };
            } else if let Some(name) = &part.description {
                part.description = Some(name.strip_suffix('s').unwrap_or(name).into());
            }
        }
        let of = &mut sheets[usize::from(line.sheet)];
        let entry = known.entry(item);
        let at = entry.index();
        entry.or_insert_with(|| reading.item.text());
        let sum = of.items.entry(at).or_default();
        sum.pieces = sum
            .pieces
            .saturating_add(each.saturating_mul(u64::from(line.places)));
        sum.lines += 1;
        let name = list.sheets[usize::from(line.sheet)].name.as_deref();
        if let Some(stage) = list.placement_of(line).stage.as_deref()
            && Some(stage) != name
            && of.stages.last().map(String::as_str) != Some(stage)
            && !of.stages.iter().any(|known| known == stage)
        {
            of.stages.push(stage.to_owned());
        }
    }
    // In the order of the items.
    let mut order: Vec<usize> = (0..known.len()).collect();
    order.sort_by(|a, b| known.get_index(*a).cmp(&known.get_index(*b)));
    let mut places = vec![0; order.len()];
    for (place, at) in order.iter().enumerate() {
        places[*at] = place;
    }
    for sheet in &mut sheets {
        let items = std::mem::take(&mut sheet.items).into_iter();
        sheet.items = items.map(|(at, sum)| (places[at], sum)).collect();
    }
    known.sort_keys();
    Summed {
        sheets,
        texts: known.into_values().collect(),
    }
}

#[cfg(test)]
mod tests {
    use rust_xlsxwriter::Workbook;

    use super::*;
    use crate::kit::{Input, Role};

    /// A workbook of sheets, each of rows of a count and an item; `~` before a name hides the sheet.
    fn book(sheets: &[(&str, &[(u64, &str)])]) -> Vec<u8> {
        let mut book = Workbook::new();
        for (name, rows) in sheets {
            let sheet = book.add_worksheet();
            sheet.set_name(name.trim_start_matches('~')).unwrap();
            sheet.set_hidden(name.starts_with('~'));
            sheet.write_row(0, 0, ["Qty", "Item"]).unwrap();
            for (row, (pieces, item)) in (1..).zip(rows.iter()) {
                sheet.write(row, 0, *pieces).unwrap();
                sheet.write(row, 1, *item).unwrap();
            }
        }
        book.save_to_buffer().unwrap()
    }

    fn read(input: impl FnOnce(&mut Input), bytes: &[u8]) -> crate::Result<List> {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("list.xlsx");
        std::fs::write(&path, bytes).unwrap();
        let mut of = Input::at(&path);
        input(&mut of);
        List::read(&of, "list.xlsx".into(), Role::Required, &|_| {})
    }

    /// Pieces counted in all, then what is said of each sheet.
    fn said(list: &List) -> (u64, Vec<String>) {
        let pieces = list.lines.iter().filter_map(|line| line.quantity).sum();
        let sheets = list.sheets.iter().flat_map(|sheet| {
            let of = |what: &Option<String>| {
                let what = what.as_ref()?;
                Some(format!("{}: {what}", sheet.name.as_deref().unwrap_or("-")))
            };
            [of(&sheet.passed_over), of(&sheet.question)]
        });
        (pieces, sheets.flatten().collect())
    }

    #[track_caller]
    fn case(sheets: &[(&str, &[(u64, &str)])], pieces: u64, expected: &[&str]) {
        let list = read(|_| {}, &book(sheets)).unwrap();
        let (found, sheets) = said(&list);
        assert_eq!(sheets, expected);
        assert_eq!(found, pieces);
    }

    /// Sums of several sheets, under a name that says nothing; not what two sides of a structure may come to.
    #[test]
    fn sums_of_unlike_sheets() {
        let base: &[(u64, &str)] = &[(8, "M8 x 40 bolt"), (8, "M8 nut"), (4, "post")];
        let roof: &[(u64, &str)] = &[(6, "M8 x 40 bolt"), (6, "M8 nut"), (9, "rafter")];
        let all: &[(u64, &str)] = &[
            (14, "M8 x 40 bolt"),
            (14, "M8 nut"),
            (4, "post"),
            (9, "rafter"),
        ];
        for name in ["Picking", "Everything", "Blatt", "Sum"] {
            let taken =
                format!("{name}: the totals of the other 2 sheets, not added again; 4 items agree");
            case(
                &[("Base", base), ("Roof", roof), (name, all)],
                41,
                &[&taken],
            );
            case(
                &[(name, all), ("Base", base), ("Roof", roof)],
                41,
                &[&taken],
            );
        }
        let twice: &[(u64, &str)] = &[(16, "M8 x 40 bolt"), (16, "M8 nut"), (8, "post")];
        let list = read(
            |_| {},
            &book(&[("Left", base), ("Right", base), ("Middle", twice)]),
        )
        .unwrap();
        let (pieces, sheets) = said(&list);
        assert_eq!(pieces, 80);
        assert!(
            sheets.iter().any(|said| said.contains("may be the totals")),
            "{sheets:?}"
        );
    }

    /// Whatever the sheet is called, what agrees by half is asked; a name decides whether it is taken.
    #[test]
    fn totals_under_names_that_say_nothing() {
        let a: &[(u64, &str)] = &[(8, "1/2 x 4 hex bolt"), (8, "1/2 hex nut")];
        let b: &[(u64, &str)] = &[(6, "M8 x 40 bolt"), (6, "post caps")];
        let same: &[(u64, &str)] = &[
            (8, "1/2 x 4 bolt"),
            (8, "1/2 hex nut"),
            (6, "M8 x 40 hex bolt"),
            (6, "post cap"),
        ];
        for name in ["All", "Packing list", "Total"] {
            let taken =
                format!("{name}: the totals of the other 2 sheets, not added again; 4 items agree");
            case(&[("A", a), ("B", b), (name, same)], 28, &[&taken]);
        }
        let near: &[(u64, &str)] = &[
            (8, "1/2 x 4 bolt"),
            (8, "1/2 hex nut"),
            (5, "M8 x 40 bolt"),
            (7, "post cap"),
        ];
        for name in ["Shopping", "Sheet2", "Extra"] {
            let list = read(|_| {}, &book(&[("A", a), ("B", b), (name, near)])).unwrap();
            assert!(list.sheets[2].question.is_some(), "{name}");
        }
        let one: &[(u64, &str)] = &[(8, "M8 nut")];
        let sum: &[(u64, &str)] = &[(16, "M8 nut")];
        let list = read(|_| {}, &book(&[("A", one), ("B", one), ("Sum", sum)])).unwrap();
        assert!(list.sheets[2].question.is_some());
    }

    #[test]
    fn totals_by_number_alone() {
        let staged: &[&[&str]] = &[
            &["Part no.", "Item", "Qty"],
            &["H-1", "1/2 x 4 hex bolt", "8"],
            &["H-2", "1/2 hex nut", "8"],
            &["H-3", "1/2 flat washer", "16"],
        ];
        let more: &[&[&str]] = &[
            &["Part no.", "Item", "Qty"],
            &["H-1", "1/2 x 4 hex bolt", "4"],
            &["H-4", "M8 x 40 hex bolt", "6"],
        ];
        let totals: &[&[&str]] = &[
            &["Part no.", "Qty"],
            &["H-1", "12"],
            &["H-2", "8"],
            &["H-3", "16"],
            &["H-4", "6"],
        ];
        let mut book = Workbook::new();
        for (name, rows) in [("Base", staged), ("Hoops", more), ("Totals", totals)] {
            let sheet = book.add_worksheet();
            sheet.set_name(name).unwrap();
            for (row, cells) in (0..).zip(rows) {
                sheet.write_row(row, 0, cells.iter().copied()).unwrap();
            }
        }
        let list = read(|_| {}, &book.save_to_buffer().unwrap()).unwrap();
        let taken = "Totals: the totals of the other 2 sheets, not added again; 4 items agree";
        assert_eq!(said(&list), (42, vec![taken.to_owned()]));
    }

    /// What totals take in beside the sheets that are read may stand on a hidden one.
    #[test]
    fn totals_of_hidden_sheets() {
        let base: &[(u64, &str)] = &[(8, "1/2 x 4 hex bolt"), (8, "1/2 hex nut")];
        let hoops: &[(u64, &str)] = &[(6, "M8 x 40 hex bolt"), (6, "M8 hex nut")];
        let all = [base, hoops].concat();
        let sheets = [("Base", base), ("~Hoops", hoops), ("Summary", &all)];
        let list = read(|_| {}, &book(&sheets)).unwrap();
        assert!(list.sheets[2].question.is_some());
    }

    /// Whatever they are called, where each line names its stage, or where there are many.
    #[test]
    fn copies_by_what_their_lines_say() {
        let staged = |sheets: &[(&str, &[u64])]| {
            let mut book = Workbook::new();
            for (name, pieces) in sheets {
                let sheet = book.add_worksheet();
                sheet.set_name(*name).unwrap();
                sheet.write_row(0, 0, ["Stage", "Qty", "Item"]).unwrap();
                for (row, pieces) in (1..).zip(*pieces) {
                    let stage = if row < 6 { "Posts" } else { "Rails" };
                    sheet.write(row, 0, stage).unwrap();
                    sheet.write(row, 1, *pieces).unwrap();
                    let item = format!("1/2 x {row} hex bolt");
                    sheet.write(row, 2, item).unwrap();
                }
            }
            said(&read(|_| {}, &book.save_to_buffer().unwrap()).unwrap())
        };
        let ten: &[u64] = &[4, 4, 4, 4, 4, 4, 4, 4, 4, 4];
        let mut other = ten.to_vec();
        other[9] = 6;
        let copy = |rest: &str| {
            let copy = "Warehouse: a copy of sheet Kit list, not added again";
            vec![format!("{copy}; {rest}")]
        };
        assert_eq!(
            staged(&[("Kit list", ten), ("Warehouse", ten)]),
            (40, copy("10 items agree"))
        );
        assert_eq!(
            staged(&[("Kit list", ten), ("Warehouse", &other)]),
            (
                40,
                copy("9 items agree, 1 differs: 1/2 x 10 hex bolt: 6 here, 4 there")
            )
        );
        // One item of one stage is enough to ask, whatever the figures.
        let asked = "if one is a copy of the other, write sheets = { \"x1\" = \"leave out\" } beside this file in the job \
                     file, else \"count\"";
        for (figures, others) in [(4, ""), (6, " (1 in another number)")] {
            let told = format!(
                "x1: sheets x and x1 ask for the same 1 item{others}, and both are counted: {asked}"
            );
            assert_eq!(
                staged(&[("x", &[4]), ("x1", &[figures])]),
                (4 + figures, vec![told])
            );
        }
        assert_eq!(staged(&[("Bag A", &[4]), ("Bag B", &[4])]), (8, vec![]));
        // Two sides are no copies.
        assert_eq!(staged(&[("Left side", ten), ("Right side", ten)]).0, 80);
        let rows: Vec<(u64, String)> = (1..9).map(|n| (4, format!("1/2 x {n} hex bolt"))).collect();
        let rows: Vec<(u64, &str)> = rows.iter().map(|(n, item)| (*n, item.as_str())).collect();
        case(
            &[("Kit list", &rows), ("Warehouse", &rows)],
            32,
            &["Warehouse: a copy of sheet Kit list, not added again; 8 items agree"],
        );
        let two = book(&[("Frame 1", &rows), ("Frame 2", &rows)]);
        assert_eq!(said(&read(|_| {}, &two).unwrap()).0, 64);
    }

    const POSTS: &[(u64, &str)] = &[
        (4, "1/2 x 3 hex bolt"),
        (4, "1/2 hex nut"),
        (8, "1/2 flat washer"),
    ];
    const RAILS: &[(u64, &str)] = &[
        (6, "1/2 hex nut"),
        (6, "1/2 x 4 hex bolt"),
        (2, "3/8 x 2 lag screw"),
    ];
    const BOTH: &[(u64, &str)] = &[
        (4, "1/2 x 3 hex bolt"),
        (6, "1/2 x 4 hex bolt"),
        (10, "1/2 hex nut"),
        (8, "1/2 flat washer"),
        (2, "3/8 x 2 lag screw"),
    ];

    #[test]
    fn a_sheet_of_totals_is_not_added_again() {
        case(
            &[("Posts", POSTS), ("Rails", RAILS), ("Summary", BOTH)],
            30,
            &["Summary: the totals of the other 2 sheets, not added again; 5 items agree"],
        );
        // Whatever it is called, where it holds enough.
        case(
            &[("Sheet1", BOTH), ("Posts", POSTS), ("Rails", RAILS)],
            30,
            &["Sheet1: the totals of the other 2 sheets, not added again; 5 items agree"],
        );
        // Two of them.
        case(
            &[
                ("Posts", POSTS),
                ("Rails", RAILS),
                ("Totals", BOTH),
                ("Pick list", BOTH),
            ],
            30,
            &[
                "Totals: the totals of the other 2 sheets, not added again; 5 items agree",
                "Pick list: the totals of the other 2 sheets, not added again; 5 items agree",
            ],
        );
    }

    #[test]
    fn the_differences_of_totals_are_shown() {
        let mut off = BOTH.to_vec();
        off[2].0 = 12;
        case(
            &[("Posts", POSTS), ("Rails", RAILS), ("Summary", &off)],
            30,
            &[
                "Summary: the totals of the other 2 sheets, not added again; 4 items agree, 1 differs: \
               1/2 hex nut: 12 here, 10 there",
            ],
        );
        // Far off, it is asked, and counted.
        off.truncate(3);
        case(
            &[("Posts", POSTS), ("Rails", RAILS), ("Summary", &off)],
            52,
            &[
                "Summary: sheet Summary may be the totals of the others (2 items agree, 3 differ: 3/8 x 2 lag \
               screw: 0 here, 2 there; 1/2 hex nut: 12 here, 10 there; 1/2 flat washer: 0 here, 8 there), and is \
               counted beside them: if so, write sheets = { \"Summary\" = \"check\" } beside this file in the \
               job file, else \"count\"",
            ],
        );
    }

    #[test]
    fn totals_by_whatever_name() {
        let mut off = BOTH.to_vec();
        off[2].0 = 12;
        let differ = "4 items agree, 1 differs: 1/2 hex nut: 12 here, 10 there";
        for name in ["Order list", "Sheet1", "Hardware"] {
            let told =
                format!("{name}: the totals of the other 2 sheets, not added again; {differ}");
            case(
                &[("Posts", POSTS), ("Rails", RAILS), (name, &off)],
                30,
                &[&told],
            );
        }
        // By a name of no part of the kit it may be they, whatever its figures.
        let mut most = BOTH.to_vec();
        for off in &mut most[..3] {
            off.0 += 2;
        }
        let list = read(
            |_| {},
            &book(&[("Posts", POSTS), ("Rails", RAILS), ("Order list", &most)]),
        );
        assert!(said(&list.unwrap()).1[0].starts_with(
            "Order list: sheet Order list may be the totals of the others (2 items agree, 3 differ: "
        ));
        // By a name of its own it may be a part of the kit: it is asked, and never added in silence.
        let told = format!(
            "Deck: sheet Deck may be the totals of the others ({differ}), and is counted beside them: if so, write \
             sheets = {{ \"Deck\" = \"check\" }} beside this file in the job file, else \"count\""
        );
        case(
            &[("Posts", POSTS), ("Rails", RAILS), ("Deck", &off)],
            62,
            &[&told],
        );
    }

    #[test]
    fn rows_that_a_sheet_says_again_below_are_asked() {
        let twice: Vec<_> = POSTS.iter().chain(POSTS).copied().collect();
        case(
            &[("Posts", &twice)],
            32,
            &[
                "Posts: row 5 and those below it say again what row 2 and those below it say, and all are counted: if it is \
               a copy, take it out of the file; if it is meant so, say what each is for",
            ],
        );
        let differs: Vec<_> = POSTS.iter().chain(RAILS).copied().collect();
        case(&[("Posts", &differs)], 30, &[]);
    }

    #[test]
    fn totals_of_one_sheet() {
        let list: Vec<(u64, &str)> = POSTS.iter().chain(RAILS).chain(POSTS).copied().collect();
        case(
            &[
                ("Parts", &list),
                (
                    "Totals",
                    &[
                        (8, "1/2 x 3 hex bolt"),
                        (14, "1/2 hex nut"),
                        (16, "1/2 flat washer"),
                        (6, "1/2 x 4 hex bolt"),
                        (2, "3/8 x 2 lag screw"),
                    ],
                ),
            ],
            46,
            &["Totals: the totals of sheet Parts, not added again; 5 items agree"],
        );
    }

    #[test]
    fn what_may_be_chance_is_asked() {
        // A third stage may well take as many as the first two.
        case(
            &[
                ("Posts", &[(4, "1/2 hex nut"), (4, "1/2 x 3 hex bolt")]),
                ("Rails", &[(4, "1/2 hex nut"), (4, "1/2 x 3 hex bolt")]),
                ("Deck", &[(8, "1/2 hex nut"), (8, "1/2 x 3 hex bolt")]),
            ],
            32,
            &[
                "Deck: sheet Deck may be the totals of the others (2 items agree), and is counted beside \
               them: if so, write sheets = { \"Deck\" = \"check\" } beside this file in the job file, else \
               \"count\"",
            ],
        );
        case(
            &[("List", POSTS), ("Posts", POSTS)],
            32,
            &[
                "Posts: sheets List and Posts ask for the same 3 items, and both are counted: if one is a copy of the other, write \
               sheets = { \"Posts\" = \"leave out\" } beside this file in the job file, else \"count\"",
            ],
        );
    }

    /// Figures change from one state of a list to the next: where the names tell no more, items of both are enough.
    #[test]
    fn two_states_of_a_list_are_asked() {
        let mut other = POSTS.to_vec();
        (other[0].0, other[1].0) = (6, 6);
        for (one, two) in [
            ("List 2025", "List 2026"),
            ("draft", "final"),
            ("May", "June"),
            ("12 May", "3 June"),
            ("List", "List updated"),
            ("Parts 2026-05-01", "Parts_2026-06-02"),
            ("BOM prelim", "BOM approved"),
        ] {
            let told = format!(
                "{two}: sheets {one} and {two} ask for the same 3 items (2 in another number), and both are counted: \
                 if one is a copy of the other, write sheets = {{ \"{two}\" = \"leave out\" }} beside this file in the \
                 job file, else \"count\""
            );
            case(&[(one, POSTS), (two, &other)], 36, &[&told]);
        }
        for (one, two) in [("Legs", "Seat"), ("Bag A", "Bag B"), ("North", "South")] {
            case(&[(one, POSTS), (two, &other)], 36, &[]);
        }
        case(
            &[("old", &other), ("new", POSTS)],
            16,
            &[
                "old: a copy of sheet new, not added again; 1 item agrees, 2 differ: 1/2 x 3 hex bolt: 6 here, 4 there; \
             1/2 hex nut: 6 here, 4 there",
            ],
        );
    }

    #[test]
    fn stages_that_need_the_same_are_no_copies() {
        case(&[("Left rail", POSTS), ("Right rail", POSTS)], 32, &[]);
        case(&[("1 Posts", POSTS), ("2 Rails", POSTS)], 32, &[]);
        case(&[("Stage 1", POSTS), ("Stage 2", POSTS)], 32, &[]);
        case(&[("Posts", POSTS), ("Rails", RAILS)], 30, &[]);
    }

    #[test]
    fn an_older_copy_is_not_counted() {
        // Its figures may all have changed, where the name is the other's.
        let before: Vec<_> = POSTS
            .iter()
            .map(|&(pieces, item)| (pieces + 2, item))
            .collect();
        let differ = "0 items agree, 3 differ: 1/2 x 3 hex bolt: 6 here, 4 there; 1/2 hex nut: 6 here, 4 \
                      there; 1/2 flat washer: 10 here, 8 there";
        for name in [
            "Posts (old)",
            "old Posts",
            "Posts - superseded",
            "Posts_old",
        ] {
            let copy = format!("{name}: a copy of sheet Posts, not added again; {differ}");
            case(&[("Posts", POSTS), (name, &before)], 16, &[&copy]);
        }
        case(&[("Posts", POSTS), ("Rails (old)", &before)], 38, &[]);
        let mut old = POSTS.to_vec();
        old[0].0 = 5;
        case(
            &[("Parts", POSTS), ("Parts (2)", POSTS)],
            16,
            &["Parts (2): a copy of sheet Parts, not added again; 3 items agree"],
        );
        case(
            &[("Parts old", &old), ("Parts", POSTS)],
            16,
            &[
                "Parts old: a copy of sheet Parts, not added again; 2 items agree, 1 differs: \
               1/2 x 3 hex bolt: 5 here, 4 there",
            ],
        );
        case(
            &[("Parts rev B", &old), ("Parts rev C", POSTS)],
            16,
            &[
                "Parts rev B: a copy of sheet Parts rev C, not added again; 2 items agree, 1 differs: \
               1/2 x 3 hex bolt: 5 here, 4 there",
            ],
        );
    }

    #[test]
    fn hidden_sheets() {
        let bytes = book(&[("Posts", POSTS), ("~Rails", RAILS), ("~Spare", POSTS)]);
        let (pieces, sheets) = said(&read(|_| {}, &bytes).unwrap());
        assert_eq!(sheets, ["Rails: hidden sheet", "Spare: hidden sheet"]);
        assert_eq!(pieces, 16);
        let (pieces, sheets) = said(&read(|of| of.hidden_sheets = true, &bytes).unwrap());
        assert_eq!(
            sheets,
            ["Spare: a copy of sheet Posts, not added again; 3 items agree"]
        );
        assert_eq!(pieces, 30);
    }

    #[test]
    fn what_the_job_says_of_a_sheet() {
        let bytes = book(&[("Posts", POSTS), ("Rails", RAILS), ("~Old", POSTS)]);
        let told = |sheet: &str, what| {
            read(
                |of| {
                    of.sheets.insert(fold(sheet), what);
                },
                &bytes,
            )
        };
        assert_eq!(
            said(&told("Rails", SheetUse::LeftOut).unwrap()),
            (
                16,
                vec![
                    "Rails: left out, as the job file says".to_owned(),
                    "Old: hidden sheet".to_owned()
                ]
            )
        );
        assert_eq!(
            said(&told("old", SheetUse::Counted).unwrap()),
            (46, Vec::new())
        );
        assert_eq!(
            said(&told("Rails", SheetUse::Checks).unwrap()).1[0],
            "Rails: the totals of sheet Posts, not added again; 0 items agree, 5 differ: 1/2 x 3 hex bolt: \
             0 here, 4 there; 1/2 x 4 hex bolt: 6 here, 0 there; 3/8 x 2 lag screw: 2 here, 0 there; \
             1/2 hex nut: 6 here, 4 there; and 1 more"
        );
        assert_eq!(
            told("Roof", SheetUse::Counted).unwrap_err().to_string(),
            "list.xlsx: the job file's sheets name \"roof\", and there is no such sheet\n  what to do: write \
             one of its sheets: Posts, Rails, Old"
        );
    }
}
