//! A second required list held against the first: stage by stage and item by item, where the two ask
//! for different pieces; where only one of them names stages, item by item alone. The second list makes no demand of its own.

use indexmap::IndexMap;

use super::{
    account::{Compared, Finding, FindingKind},
    deal::{Sink, Source, Way, deal},
    evidence::{Rows, Run},
    findings::pieces,
    fits::Index,
    inventory::{Stated, state_items},
    options::Chosen,
    stages::{Stages, may_be_one},
};
use crate::{
    kit::{Job, List, Role, Usage, What},
    words::{count, fold},
};

/// What one list asks for of one item in one stage.
#[derive(Default)]
struct Asked {
    pieces: u64,
    rows: Vec<Run>,
}

/// What one list asks for in one stage, by item.
#[derive(Default)]
struct StageAsked {
    /// As first written.
    name: String,
    items: IndexMap<u32, Asked>,
}

impl StageAsked {
    fn total(&self) -> u64 {
        self.items.values().map(|asked| asked.pieces).sum()
    }

    fn evidence(&self) -> Rows {
        self.items
            .values()
            .flat_map(|asked| &asked.rows)
            .copied()
            .collect()
    }
}

/// By the form in which stages are compared.
type Asks = IndexMap<String, StageAsked>;

/// Holds each list that checks the required one against it.
pub fn hold_against(
    lists: &[List],
    job: &Job,
    stages: &Stages,
    chosen: &Chosen,
) -> (Vec<Compared>, Vec<Finding>) {
    let (mut compared, mut findings) = (Vec::new(), Vec::new());
    if !lists.iter().any(|list| list.role == Role::Compared) {
        return (compared, findings);
    }
    let Some(required) = lists.iter().position(|list| list.role == Role::Required) else {
        return (compared, findings);
    };
    let (items, ids) = state_items(lists, job);
    let (mut ours, _) = asks(lists, required, &ids[required], chosen);
    ours.sort_by_cached_key(|key, _| stages.of(Some(key)));
    let not_built = not_built(&lists[required], chosen);
    let others = lists.iter().enumerate();
    for (at, list) in others.filter(|(_, list)| list.role == Role::Compared) {
        let (theirs, unread) = asks(lists, at, &ids[at], chosen);
        let mut pages = Pages {
            files: [&lists[required].file, &list.file],
            items: &items,
            of: Compared {
                list: at,
                agree: 0,
                differ: 0,
                unread,
                not_built: Vec::new(),
            },
            not_built: &not_built,
            findings: &mut findings,
        };
        match names_no_stage(&ours) != names_no_stage(&theirs) {
            true => pages.compare(&in_all(&ours), in_all(&theirs)),
            false => pages.compare(&ours, theirs),
        }
        compared.push(pages.of);
    }
    (compared, findings)
}

fn names_no_stage(asks: &Asks) -> bool {
    asks.keys().all(String::is_empty)
}

/// All stages as one.
fn in_all(asks: &Asks) -> Asks {
    let mut all = StageAsked {
        name: IN_ALL.to_owned(),
        ..StageAsked::default()
    };
    for (item, asked) in asks.values().flat_map(|stage| &stage.items) {
        let of = all.items.entry(*item).or_default();
        of.pieces = of.pieces.saturating_add(asked.pieces);
        of.rows.extend(&asked.rows);
    }
    Asks::from_iter([(String::new(), all)])
}

/// In place of a stage's name: no stage is called so.
const IN_ALL: &str = "\n";

/// What a list asks for of new pieces, for one kit; and how many of its lines could not be summed.
fn asks(lists: &[List], at: usize, ids: &[u32], chosen: &Chosen) -> (Asks, u64) {
    let list = &lists[at];
    let (mut asks, mut unread) = (Asks::new(), 0);
    for line in &list.lines {
        let placement = list.placement_of(line);
        if !chosen.takes(placement.option.as_ref())
            || placement.usage.is_some_and(|usage| usage != Usage::New)
        {
            continue;
        }
        let (reading, each) = match (&line.what, line.quantity) {
            (What::Item(reading), Some(each)) => (*reading, each),
            (What::Bag { .. }, _) => continue,
            _ => {
                unread += 1;
                continue;
            }
        };
        let name = placement.stage.as_deref().unwrap_or_default();
        let stage = asks.entry(fold(name)).or_insert_with(|| StageAsked {
            name: name.trim().to_owned(),
            ..StageAsked::default()
        });
        let asked = stage.items.entry(ids[reading as usize]).or_default();
        let more = each.saturating_mul(u64::from(line.places));
        asked.pieces = asked.pieces.saturating_add(more);
        asked.rows.push(Run::row(at, line.sheet, line.row));
    }
    (asks, unread)
}

/// The stages of a list of which all lines belong to options that are not built, and one such option each.
fn not_built(list: &List, chosen: &Chosen) -> IndexMap<String, String> {
    let mut stages: IndexMap<String, Option<String>> = IndexMap::new();
    for line in &list.lines {
        let placement = list.placement_of(line);
        let option = placement.option.as_ref();
        let open = option.filter(|option| !chosen.takes(Some(option)));
        let stage = fold(placement.stage.as_deref().unwrap_or_default());
        let name = open.map(|option| option.name.trim().to_owned());
        let known = stages.entry(stage).or_insert_with(|| name.clone());
        *known = known.take().filter(|_| name.is_some());
    }
    let of_options = stages
        .into_iter()
        .filter_map(|(stage, option)| Some((stage, option?)));
    of_options.collect()
}

/// Two lists side by side: the required one, and one that checks it.
struct Pages<'a> {
    files: [&'a str; 2],
    items: &'a [Stated],
    of: Compared,
    not_built: &'a IndexMap<String, String>,
    findings: &'a mut Vec<Finding>,
}

impl Pages<'_> {
    fn compare(&mut self, ours: &Asks, mut theirs: Asks) {
        for (key, own) in ours {
            let other = theirs.shift_remove(key).or_else(|| {
                let alike: Vec<String> = theirs
                    .keys()
                    .filter(|other| may_be_one(other, key) && !ours.contains_key(*other))
                    .cloned()
                    .collect();
                let ours_alike = ours.keys().filter(|own| may_be_one(own, key)).count();
                match alike.as_slice() {
                    [one] if ours_alike == 1 => theirs.shift_remove(one),
                    _ => None,
                }
            });
            match other {
                Some(other) => self.stage(own, &other),
                None => self.in_one_only(own, 0),
            }
        }
        for (key, other) in &theirs {
            let option = self.not_built.iter().find(|(own, _)| may_be_one(own, key));
            match option {
                Some((_, option)) if !key.is_empty() => {
                    let of_option = (other.name.clone(), option.clone());
                    self.of.not_built.push(of_option);
                }
                _ => self.in_one_only(other, 1),
            }
        }
    }

    fn differ(&mut self, pieces: u64, note: String, evidence: Rows) {
        self.of.differ += 1;
        self.findings.push(Finding {
            finding: FindingKind::RequiredDiffer,
            pieces,
            note,
            evidence,
        });
    }

    /// A stage that only one of the lists names.
    fn in_one_only(&mut self, stage: &StageAsked, which: usize) {
        self.differ(
            stage.total(),
            format!(
                "{} {}, {}, in {} only: {} names none of it.",
                spoken(&stage.name),
                pieces(stage.total()),
                count(stage.items.len() as u64, "item"),
                self.files[which],
                self.files[1 - which],
            ),
            stage.evidence(),
        );
    }

    /// One stage of both lists. What the second asks for is dealt to what the first asks for, as
    /// pieces are dealt to demands: the two may state an item more or less closely.
    fn stage(&mut self, own: &StageAsked, other: &StageAsked) {
        let mut index = Index::default();
        for (at, item) in own.items.keys().enumerate() {
            index.add(at, &self.items[*item as usize]);
        }
        let own_item = |at: usize| *own.items.get_index(at).expect("an item of the stage").0;
        let mut found = Vec::new();
        let ways: Vec<Vec<Way>> = other
            .items
            .keys()
            .map(|item| {
                let stated = &self.items[*item as usize];
                let of = |at: usize| &self.items[own_item(at) as usize];
                index.find(stated, of, &mut found);
                let ways = found.iter();
                ways.map(|(sink, fit)| Way::own(*sink, fit.cost()))
                    .collect()
            })
            .collect();
        let wants: Vec<(usize, u64)> = own.items.values().map(|of| (0, of.pieces)).collect();
        let sources: Vec<Source> = other
            .items
            .values()
            .zip(&ways)
            .map(|(asked, ways)| Source::of(asked.pieces, ways))
            .collect();
        let dealt = deal(&Sink::each(&wants), &sources);
        let mut theirs: Vec<(u64, Vec<usize>)> = vec![(0, Vec::new()); wants.len()];
        for &(source, sink, pieces) in &dealt.flows {
            theirs[sink].0 += pieces;
            theirs[sink].1.push(source);
        }
        let mut alone = Vec::new();
        for (source, left) in dealt.left.iter().enumerate() {
            // What nobody wants more of falls to the item that it fits best.
            match ways[source].first() {
                Some(way) if *left > 0 => {
                    theirs[way.sink].0 += left;
                    theirs[way.sink].1.push(source);
                }
                None => alone.push(source),
                Some(_) => {}
            }
        }
        for ((item, asked), (count, sources)) in own.items.iter().zip(theirs) {
            if asked.pieces == count {
                self.of.agree += 1;
                continue;
            }
            let rows = sources.into_iter().flat_map(|at| &other.items[at].rows);
            let evidence = rows.chain(&asked.rows).copied().collect();
            self.item(&own.name, *item, [asked.pieces, count], evidence);
        }
        for source in alone {
            let (item, asked) = other.items.get_index(source).expect("an item of the stage");
            let evidence = asked.rows.iter().copied().collect();
            self.item(&own.name, *item, [0, asked.pieces], evidence);
        }
    }

    fn item(&mut self, stage: &str, item: u32, asked: [u64; 2], evidence: Rows) {
        let [first, second] = asked.map(|pieces| match pieces {
            0 => "none".to_owned(),
            pieces => pieces.to_string(),
        });
        self.differ(
            asked[0].abs_diff(asked[1]),
            format!(
                "{} {}: {first} in {}, {second} in {}.",
                spoken(stage),
                self.items[item as usize].shown().text(),
                self.files[0],
                self.files[1],
            ),
            evidence,
        );
    }
}

/// `Stage "Deck":`, at the start of a sentence.
fn spoken(stage: &str) -> String {
    match stage {
        "" => "In no named stage:".to_owned(),
        IN_ALL => "In all:".to_owned(),
        stage => format!("Stage \"{stage}\":"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        kit::{Job, job::SecondList},
        settle::{
            sample::{ListOf, stage, used},
            settle,
        },
    };

    fn checking() -> ListOf {
        ListOf::new(Role::Compared, "guide.txt")
    }

    #[track_caller]
    fn case(first: ListOf, second: ListOf, agree: u64, expected: &[&str]) {
        let job = Job {
            second_list: SecondList::Checks,
            ..Job::default()
        };
        let account = settle(&job, &[first.list(), second.list()]).expect("settles");
        let notes: Vec<&str> = account.findings.iter().map(|f| f.note.as_str()).collect();
        assert_eq!(notes, expected);
        let [compared] = account.compared.as_slice() else {
            panic!("one list is compared");
        };
        assert_eq!(
            (compared.agree, compared.differ),
            (agree, expected.len() as u64)
        );
    }

    #[test]
    fn a_stage_by_its_number_is_that_of_its_name() {
        let one = ("bolt hex 1/2-13 3", 8);
        case(
            ListOf::required().line(one.0, one.1, &stage("1")),
            checking().line(one.0, one.1, &stage("Step 1: Posts")),
            1,
            &[],
        );
    }

    #[test]
    fn lists_are_compared_by_stage_and_item() {
        let deck = stage("Deck");
        case(
            ListOf::required().line("bolt hex 1/2-13 3", 8, &deck),
            checking().line("bolt hex 1/2-13 3", 8, &deck),
            1,
            &[],
        );
        // Lines add up within a list, and one list may state more than the other.
        case(
            ListOf::required().line("bolt hex 1/2-13 3 g5", 8, &deck),
            checking()
                .line("bolt hex 1/2-13 3", 6, &deck)
                .line("bolt hex 1/2-13 3", 2, &deck),
            1,
            &[],
        );
        case(
            ListOf::required()
                .line("bolt hex 1/2-13 3", 8, &deck)
                .line("nut hex 1/2-13", 8, &deck),
            checking()
                .line("bolt hex 1/2-13 3", 12, &deck)
                .line("washer flat 1/2", 16, &deck),
            0,
            &[
                "Stage \"Deck\": 1/2-13 x 3 hex bolt: 8 in parts.csv, 12 in guide.txt.",
                "Stage \"Deck\": 1/2-13 hex nut: 8 in parts.csv, none in guide.txt.",
                "Stage \"Deck\": 1/2 flat washer: none in parts.csv, 16 in guide.txt.",
            ],
        );
    }

    #[test]
    fn stages_of_one_list_only_are_named_once() {
        case(
            ListOf::required()
                .line("bolt hex 1/2-13 3", 8, &stage("1 Deck"))
                .line("nut hex 1/2-13", 8, &stage("1 Deck"))
                .line("nut hex 1/2-13", 4, &stage("2 Rails")),
            checking()
                .line("nut hex 1/2-13", 4, &stage("Stage 2: Rails"))
                .line("nut hex 1/2-13", 4, &stage("3 Ramp")),
            1,
            &[
                "Stage \"1 Deck\": 16 pieces, 2 items, in parts.csv only: guide.txt names none of it.",
                "Stage \"3 Ramp\": 4 pieces, 1 item, in guide.txt only: parts.csv names none of it.",
            ],
        );
    }

    #[test]
    fn only_new_pieces_are_compared() {
        let lists = |role, file: &str| {
            ListOf::new(role, file)
                .line("nut hex 1/2-13", 4, &stage("Deck"))
                .line("bolt hex 1/2-13 3", 4, &used("Deck", Usage::NotInKit))
        };
        case(
            lists(Role::Required, "parts.csv"),
            lists(Role::Compared, "guide.txt").line(
                "nut hex 1/2-13",
                4,
                &used("Deck", Usage::CarriedOver),
            ),
            1,
            &[],
        );
    }

    /// A stage of an option that nobody builds is on the required list, though nothing of it is asked for.
    #[test]
    fn a_stage_of_an_option_is_not_compared() {
        let ramp = |line: &mut crate::kit::Line, placement: &mut crate::kit::Placement| {
            stage("8 Ramp")(line, placement);
            placement.option = Some(crate::kit::OptionRule {
                with: true,
                name: "ramp".into(),
            });
        };
        let required = ListOf::required()
            .line("nut hex 1/2-13", 4, &stage("Deck"))
            .line("nut hex 1/2-13", 6, &ramp);
        let guide = checking().line("nut hex 1/2-13", 4, &stage("Deck")).line(
            "nut hex 1/2-13",
            6,
            &stage("Stage 8: Ramp"),
        );
        let job = Job {
            second_list: SecondList::Checks,
            ..Job::default()
        };
        let account = settle(&job, &[required.list(), guide.list()]).expect("settles");
        assert_eq!(account.findings, []);
        let of = &account.compared[0];
        assert_eq!((of.agree, of.differ), (1, 0));
        assert_eq!(
            of.not_built,
            [("Stage 8: Ramp".to_owned(), "ramp".to_owned())]
        );
    }

    #[test]
    fn the_second_list_makes_no_demand() {
        let job = Job {
            second_list: SecondList::Checks,
            ..Job::default()
        };
        let lists = [
            ListOf::required()
                .line("nut hex 1/2-13", 4, &stage("Deck"))
                .list(),
            checking().line("nut hex 1/2-13", 9, &stage("Deck")).list(),
            ListOf::shipped()
                .line("nut hex 1/2-13", 4, &stage("Deck"))
                .list(),
        ];
        let account = settle(&job, &lists).expect("settles");
        assert_eq!((account.totals.required, account.totals.short), (4, 0));
        assert!(
            account
                .reasons
                .iter()
                .any(|r| r == "the required lists differ in 1 line: settle which of them is right"),
            "{:?}",
            account.reasons
        );
    }

    #[test]
    fn a_list_without_stages_is_held_against_all_of_them() {
        let by_stages = || {
            let list = ListOf::required().line("bolt hex 1/2 3", 8, &stage("Deck"));
            let list = list.line("bolt hex 1/2 3", 4, &stage("Rails"));
            list.line("nut hex 1/2", 12, &stage("Rails"))
        };
        let whole = |list: ListOf| {
            let list = list.line("bolt hex 1/2 3", 12, &stage(""));
            list.line("nut hex 1/2", 10, &stage(""))
        };
        let found = "In all: 1/2-13 hex nut: 12 in parts.csv, 10 in guide.txt.";
        case(by_stages(), whole(checking()), 1, &[found]);
    }

    #[test]
    fn lists_that_add_are_summed() {
        let job = Job {
            second_list: SecondList::Adds,
            ..Job::default()
        };
        let lists = [
            ListOf::required()
                .line("nut hex 1/2-13", 4, &stage("Deck"))
                .list(),
            ListOf::new(Role::Required, "more.csv")
                .line("nut hex 1/2-13", 9, &stage("Deck"))
                .list(),
        ];
        let account = settle(&job, &lists).expect("settles");
        assert_eq!(account.totals.required, 13);
    }
}
