//! Titles of the parts in which each stage of a guide is written: `Hardware` and `Steps` below `Legs`, and again below
//! `Top`. They name no stage (common practice, no source).

use rustc_hash::{FxHashMap, FxHashSet};

use super::{
    super::guide::{is_prose, is_side},
    Reader,
    in_the_box::heads_one,
    titles,
};
use crate::{columns::furniture, source::Row, words::fold};

/// Words of which alone the title of such a part is made.
#[rustfmt::skip]
const PARTS: &[&str] = &[
    "step", "steps", "procedure", "instruction", "instructions", "direction", "directions", "method", "assembly",
    "assembling", "installation", "work", "task", "tasks", "action", "actions", "operation", "operations", "sequence",
    "how", "what", "to", "do", "you", "will", "need", "needed", "required", "use", "used", "the", "and", "for", "this", "stage",
    "section", "hardware", "fasteners", "fixings", "fittings", "parts", "components", "materials", "pieces", "list", "tools",
    "equipment", "build", "it", "building", "go", "together",
];

/// A longer line is no title.
const LONGEST: usize = 60;

/// What a title stands as among others.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mark {
    /// It says itself that it is a stage, or bears a number.
    Numbered,
    /// So many `#` stand in front.
    Hashes(usize),
    Bare,
}

/// A line that may be a title. `right_above`: where it stands right below another, that one.
struct Titled {
    key: String,
    mark: Mark,
    right_above: Option<usize>,
}

fn titled(text: &str, right_above: Option<usize>) -> Option<Titled> {
    if text.len() > LONGEST {
        return None;
    }
    let heading = furniture::markdown_heading(text);
    let title = heading.map_or_else(|| furniture::unmark(text), |(_, title)| title);
    let mark = match heading {
        _ if furniture::stage_title(text).is_some() => Mark::Numbered,
        Some((hashes, _)) => Mark::Hashes(hashes),
        None if titles::numbered(text).is_some() => Mark::Numbered,
        None if title.contains(|c: char| c.is_ascii_digit()) || !furniture::may_be_title(title) => {
            return None;
        }
        None => Mark::Bare,
    };
    Some(Titled {
        key: fold(title),
        mark,
        right_above,
    })
}

/// The titles, folded, that come again below others: each time one stands above that is higher by its number or its
/// marks, or that stands right above such a title and comes once.
pub(super) fn repeated(rows: &[Row]) -> FxHashSet<String> {
    let mut all: Vec<Titled> = Vec::new();
    let mut above = None;
    let mut text = String::new();
    for row in rows.iter().filter(|row| !row.is_empty()) {
        row.join_into(&mut text);
        let found = match row.filled() {
            1 => titled(&text, above),
            _ => None,
        };
        above = found.as_ref().map(|_| all.len());
        all.extend(found);
    }
    let mut times: FxHashMap<&str, usize> = FxHashMap::default();
    for title in &all {
        *times.entry(&title.key).or_default() += 1;
    }
    let again = |title: &Titled| times[&*title.key] > 1;
    let mut heads = vec![false; all.len()];
    for title in all.iter().filter(|title| again(title)) {
        if let Some(above) = title.right_above.filter(|&above| !again(&all[above])) {
            heads[above] = true;
        }
    }
    // By its marks, where the last title stands that is higher: one number for each count of `#`.
    const DEEPEST: usize = 8;
    let mut last: [Option<usize>; DEEPEST] = [None; DEEPEST];
    let mut last_numbered = None;
    let mut before: FxHashMap<&str, usize> = FxHashMap::default();
    let mut none: FxHashSet<&str> = FxHashSet::default();
    for (at, title) in all.iter().enumerate() {
        let level = match title.mark {
            Mark::Numbered => 0,
            Mark::Hashes(hashes) => hashes.min(DEEPEST - 1),
            Mark::Bare => DEEPEST,
        };
        if again(title) && title.mark != Mark::Numbered {
            let higher = last[..level].iter().flatten().max();
            let since = before.insert(&title.key, at);
            let stands_below = higher.max(last_numbered.as_ref()).copied() >= since.or(Some(0));
            if !stands_below {
                none.insert(&title.key);
            }
        }
        match title.mark {
            Mark::Numbered => last_numbered = Some(at),
            Mark::Hashes(_) => last[level] = Some(at),
            // A bare one is higher than bare ones alone.
            Mark::Bare if heads[at] => last[DEEPEST - 1] = Some(at),
            Mark::Bare => {}
        }
    }
    let again = before.keys().filter(|key| !none.contains(*key));
    again.map(|key| (*key).to_owned()).collect()
}

/// The stages, folded, that are ways to do the same: their titles bear one number, another letter, and names that differ in
/// what sort of thing they are of: `Stage 2A - Timber base`, `Stage 2B - Concrete base`. Sides and turns are no sorts.
pub(super) fn alternatives(rows: &[Row]) -> FxHashSet<String> {
    let mut by_name: FxHashMap<(u32, String), Vec<(char, String)>> = FxHashMap::default();
    let mut ways: FxHashMap<String, Vec<String>> = FxHashMap::default();
    let mut text = String::new();
    for row in rows.iter().filter(|row| row.filled() == 1) {
        row.join_into(&mut text);
        if text.len() > LONGEST {
            continue;
        }
        if let Some(kind) = way(&text) {
            ways.entry(kind)
                .or_default()
                .push(fold(furniture::unmark(&text)));
        }
        let Some(title) = furniture::stage_title(&text) else {
            continue;
        };
        let key = fold(title);
        let Some((number, Some(letter))) = furniture::number_of_stage(title) else {
            continue;
        };
        let mut words = key
            .rsplit(' ')
            .filter(|word| word.contains(char::is_alphabetic));
        let (Some(thing), Some(sort)) = (words.next(), words.next()) else {
            continue;
        };
        if !is_side(sort) && !sort.contains(|c: char| c.is_ascii_digit()) {
            let thing = (number, thing.trim_end_matches('s').to_owned());
            by_name.entry(thing).or_default().push((letter, key));
        }
    }
    let several = by_name
        .into_values()
        .filter(|all| all.iter().any(|(letter, _)| *letter != all[0].0));
    let ways = ways
        .into_values()
        .filter(|all| all.iter().any(|one| *one != all[0]));
    (several.flatten().map(|(_, key)| key))
        .chain(ways.flatten())
        .collect()
}

/// What a line has in common with others that name ways to do the same: `option` of `Option A - Timber base`, `on base` of
/// `On a timber base:`.
fn way(text: &str) -> Option<String> {
    const NAMED: &[&str] = &[
        "option",
        "alternative",
        "variant",
        "version",
        "method",
        "choice",
    ];
    const GROUNDS: &[&str] = &["on", "for", "if", "with", "in", "when", "onto", "into"];
    const OF_ANY: &[&str] = &["a", "an", "you", "your"];
    let closed = text.trim_end().ends_with(':');
    let key = fold(furniture::unmark(text));
    let mut words = key.split(' ');
    let (first, second) = (words.next()?, words.next()?);
    let mark = second.trim_end_matches(|c: char| !c.is_alphanumeric());
    let numbered = mark.len() == 1 && mark.bytes().all(|b| b.is_ascii_alphanumeric());
    match () {
        () if NAMED.contains(&first) && numbered => Some(first.to_owned()),
        () if closed && GROUNDS.contains(&first) && OF_ANY.contains(&second) => {
            Some(format!("{first} {}", words.next_back()?))
        }
        () => None,
    }
}

impl Reader<'_> {
    /// Takes a line that names one way of several, for the lines below it in its stage.
    pub(super) fn take_way(&mut self, row: &Row) -> bool {
        if row.filled() != 1 {
            return false;
        }
        let text = row.joined();
        if text.len() > LONGEST {
            return false;
        }
        let known = !self.alternatives.is_empty()
            && self.alternatives.contains(&fold(furniture::unmark(&text)));
        // `Troubleshooting` below the sentences of a stage
        let behind = self.is_guide()
            && titles::is_afterwards(&text)
            && furniture::may_be_title(furniture::unmark(&text))
            && !is_prose(&text);
        let is_way = (known || behind) && furniture::stage_title(&text).is_none();
        if is_way {
            self.end_run_on();
            self.guide.take_way(row.number, furniture::unmark(&text));
            self.way = Some(furniture::unmark(&text).to_owned());
        }
        is_way
    }

    /// True for a title of a part of the stage above, and of no stage. `marks`: so many `#` stand in front of it.
    pub(super) fn is_section(&self, title: &str, marks: usize) -> bool {
        let key = fold(title);
        if self.sections.contains(&key) {
            return true;
        }
        let is_part = key.split(' ').all(|word| PARTS.contains(&word));
        let above = self.stage.to_lowercase();
        let is_below = marks == 0 || marks > self.stage_level;
        let is_head = heads_one(&above) || titles::looks_after(&above);
        is_part && is_below && !above.is_empty() && !is_head
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn titles_that_come_again() {
        #[track_caller]
        fn case(lines: &[&str], expected: &[&str]) {
            let rows = lines.iter().zip(1..);
            let rows: Vec<Row> = rows.map(|(line, at)| Row::of_text(at, line)).collect();
            let mut found: Vec<String> = repeated(&rows).into_iter().collect();
            found.sort_unstable();
            assert_eq!(found, expected, "{lines:?}");
        }
        let numbered = [
            "Stage 1 - Legs",
            "Hardware",
            "- 4 M8 x 40 bolts",
            "Steps",
            "Fit them.",
            "Stage 2 - Top",
            "Hardware",
            "- 2 M8 x 60 bolts",
            "Steps",
            "Fit them.",
        ];
        case(&numbered, &["hardware", "steps"]);
        let marked = [
            "# Bench",
            "## Legs",
            "### Bits",
            "- 4 M8 x 40 bolts",
            "### Doing it",
            "Fit them.",
            "## Top",
            "### Bits",
            "- 2 M8 x 60 bolts",
            "### Doing it",
            "Fit them.",
        ];
        case(&marked, &["bits", "doing it"]);
        let bare = [
            "Bench",
            "",
            "Legs",
            "",
            "Bits",
            "",
            "4 M8 x 40 bolts",
            "",
            "Doing it",
            "",
            "Fit them.",
            "",
            "Top",
            "",
            "Bits",
            "",
            "2 M8 x 60 bolts",
            "",
            "Doing it",
            "",
            "Fit them.",
        ];
        case(&bare, &["bits", "doing it"]);
        // Of one level, or once below no higher one.
        case(
            &[
                "# Bench", "## Legs", "4 nuts", "## Top", "2 nuts", "## Legs", "4 nuts",
            ],
            &[],
        );
        case(
            &[
                "Bench", "", "Frame", "4 nuts", "", "Roof", "2 nuts", "", "Frame", "4 nuts",
            ],
            &[],
        );
        case(
            &[
                "Stage 1", "Frame", "4 nuts", "Roof", "2 nuts", "Frame", "4 nuts",
            ],
            &[],
        );
    }

    #[test]
    fn stages_that_are_ways_to_do_the_same() {
        #[track_caller]
        fn case(lines: &[&str], expected: usize) {
            let rows = lines.iter().zip(1..);
            let rows: Vec<Row> = rows.map(|(line, at)| Row::of_text(at, line)).collect();
            assert_eq!(alternatives(&rows).len(), expected, "{lines:?}");
        }
        case(&["Stage 2A - Timber base", "Stage 2B - Concrete base"], 2);
        case(&["Stage 2A - Left leg", "Stage 2B - Right leg"], 0);
        case(&["Stage 2A - Legs", "Stage 2B - Rails"], 0);
        case(&["Stage 2 - Timber base", "Stage 3 - Concrete base"], 0);
        case(&["Option A - Timber base", "Option B - Concrete base"], 2);
        case(&["On a timber base:", "4 nuts", "On a concrete base:"], 2);
        case(&["On a timber base:", "In a brick wall:"], 0);
    }
}
