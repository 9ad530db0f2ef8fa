//! Names of parts: which descriptions, in which lists, are of one part.
//!
//! What is alike but for the plural, for spaces between figures, for the order of words or for a unit that
//! only one side states is one part, unless a list itself tells the two apart. So are two names of which
//! the lists say that they bear one number, where neither name has another; and a name and a longer one
//! that bear one mark, where no other name of the lists bears it (`posts P1`, `roof post P1, with foot`); and a name
//! and one that says its dimensions or a word more in front, where no other name of the lists could be either (`base
//! plate`, `base plate 200 x 200 x 10`; `pods`, `stepping pod`).
//! The job's word goes before all of it.

use std::collections::{BTreeMap, BTreeSet};

use indexmap::IndexMap;
use rustc_hash::{FxBuildHasher, FxHashMap};

use super::{called::Called, options::nearest};
use crate::{
    doubt::Doubt,
    hardware::{PartWords, Written},
    kit::{Job, List, Role},
};

/// Names with one noun, at most, of which one may be another: of more, several may.
const MOST_OF_NOUN: usize = 50;

/// Each name of a part, and the one that stands for all names of it.
#[derive(Default)]
pub struct PartNames {
    names: FxHashMap<Box<str>, Meant>,
}

/// What a name stands for.
struct Meant {
    name: Box<str>,
    /// The number by which it is known.
    number: Option<Box<str>>,
    /// The job says so, whatever number the name bears.
    by_job: bool,
    doubt: Option<Doubt>,
}

/// A description as the lists have it.
struct Name<'a> {
    text: &'a str,
    written: Written,
    required: bool,
    /// A required list or a slip uses it.
    by_maker: bool,
    /// Lists that use it.
    lists: Vec<usize>,
    numbers: BTreeSet<&'a str>,
}

impl<'a> Name<'a> {
    fn of(text: &'a str) -> Name<'a> {
        Name {
            text,
            written: Written::of(text),
            required: false,
            by_maker: false,
            lists: Vec::new(),
            numbers: BTreeSet::new(),
        }
    }
}

/// The names of parts that lists use, in the order of their first use.
fn of_lists(lists: &[List]) -> IndexMap<&str, Name<'_>, FxBuildHasher> {
    let mut found: IndexMap<&str, Name, FxBuildHasher> = IndexMap::default();
    for (at, list) in lists.iter().enumerate() {
        for reading in &list.readings {
            let Some(part) = &reading.item.part else {
                continue;
            };
            let Some(text) = part.description.as_deref() else {
                continue;
            };
            let name = found.entry(text).or_insert_with(|| Name::of(text));
            name.required |= list.role == Role::Required;
            name.by_maker |= matches!(list.role, Role::Required | Role::Shipped);
            if name.lists.last() != Some(&at) {
                name.lists.push(at);
            }
            let makers = !matches!(list.role, Role::Stock | Role::LeftOver);
            let number = part.number.as_deref().or(reading.part_number.as_deref());
            name.numbers.extend(number.filter(|_| makers));
        }
    }
    found
}

/// What the job says of names that no list uses, so that it joins nothing: a sentence each.
pub fn joined_in_vain(lists: &[List], joined: &IndexMap<String, String>) -> Vec<String> {
    if joined.is_empty() {
        return Vec::new();
    }
    let found = of_lists(lists);
    let texts: Vec<String> = found.keys().map(|text| (*text).to_owned()).collect();
    let is_known = |name: &str| {
        let called = Called::of(name);
        let mut readings = lists.iter().flat_map(|list| &list.readings);
        readings.any(|reading| called.names(reading))
    };
    let mut vain = Vec::new();
    for (other, meant) in joined {
        let unknown = [other, meant].into_iter().filter(|name| !is_known(name));
        let unknown: Vec<String> = unknown
            .map(|name| match nearest(&name.to_lowercase(), &texts) {
                Some(near) => format!("\"{name}\" (the nearest is \"{near}\")"),
                None => format!("\"{name}\""),
            })
            .collect();
        if !unknown.is_empty() {
            vain.push(format!(
                "[names] \"{other}\" = \"{meant}\" joins nothing: no list names {}",
                unknown.join(", nor ")
            ));
        }
    }
    vain
}

impl PartNames {
    /// Learns the names of all lists, of the job's tables of numbers, and what the job says of names.
    pub fn of(lists: &[List], job: &Job) -> PartNames {
        let mut found = of_lists(lists);
        let kept = job.numbers.iter().filter_map(|row| row.item.part.as_ref());
        for text in kept.filter_map(|part| part.description.as_deref()) {
            found.entry(text).or_insert_with(|| Name::of(text));
        }
        let mut names = PartNames::default();
        if lists.len() > 1 {
            let found: Vec<Name> = found.into_values().collect();
            names.unite_alike(&found);
            names.unite_compound(&found);
            names.unite_numbered(&found);
            names.unite_marked(&found);
            for says_less in [lacks_dimensions, lacks_words, lacks_tail] {
                names.unite_shorter(&found, says_less);
            }
            names.join(&found, &job.names);
        }
        names
    }

    /// The name that stands for a part in all lists.
    pub fn canonical<'a>(&'a self, description: &'a str) -> &'a str {
        let known = self.names.get(description);
        known.map_or(description, |meant| &meant.name)
    }

    /// The number that a name has in other lists, where that alone tells which part it is.
    pub fn number(&self, description: &str) -> Option<&str> {
        self.names.get(description)?.number.as_deref()
    }

    /// True where the job says what a name stands for.
    pub fn is_joined(&self, description: &str) -> bool {
        self.names
            .get(description)
            .is_some_and(|meant| meant.by_job)
    }

    /// What a person should know of a name that was taken for another.
    pub fn note(&self, description: &str) -> Option<&Doubt> {
        self.names.get(description)?.doubt.as_ref()
    }

    fn unite_alike(&mut self, names: &[Name]) {
        let mut alike: FxHashMap<&PartWords, Vec<&Name>> = FxHashMap::default();
        for name in names {
            alike.entry(&name.written.words).or_default().push(name);
        }
        for group in alike.into_values().filter(|group| group.len() > 1) {
            let mut in_order: Vec<(&[Box<str>], Vec<&Name>)> = Vec::new();
            for name in &group {
                let own = name.written.in_order.as_slice();
                match in_order.iter_mut().find(|(order, _)| *order == own) {
                    Some((_, of)) => of.push(name),
                    None => in_order.push((own, vec![name])),
                }
            }
            // A list that uses two orders of the same words tells two parts apart by them.
            let apart = in_order.iter().enumerate().any(|(at, (_, of))| {
                let others = in_order[at + 1..].iter().flat_map(|(_, of)| of);
                others
                    .into_iter()
                    .any(|b| of.iter().any(|a| share_list(a, b)))
            });
            match apart {
                true => in_order.iter().for_each(|(_, of)| self.unite(of)),
                false => self.unite(&group),
            }
        }
    }

    /// Unites names that are the same in letters and figures, of which no list has both: one parts a word that the
    /// other does not (`hand rail`, `handrail`; `A-12`, `A12`), or states a length in another unit (`1200 mm`,
    /// `1.2 m`). Common practice, no source.
    fn unite_compound(&mut self, names: &[Name]) {
        let joined = |name: &Name| -> String {
            let mut all = String::new();
            for word in &name.written.in_one_unit {
                let digit = |c: char| c.is_ascii_digit();
                if all.ends_with(digit) && word.starts_with(digit) {
                    all.push(' ');
                }
                all.push_str(word);
            }
            all
        };
        let mut alike: FxHashMap<String, Vec<&Name>> = FxHashMap::default();
        for name in names
            .iter()
            .filter(|name| !name.written.in_order.is_empty())
        {
            alike.entry(joined(name)).or_default().push(name);
        }
        for group in alike.into_values() {
            let Some(chosen) = group.iter().min_by_key(|name| (!name.required, name.text)) else {
                continue;
            };
            for name in &group {
                let parted = name.written.in_order.len() != chosen.written.in_order.len();
                let other_unit = name.written.in_order != name.written.in_one_unit
                    || chosen.written.in_order != chosen.written.in_one_unit;
                let told = match (parted, other_unit) {
                    (true, _) => "only one of the two parts the word",
                    (false, true) => "the same length in another unit",
                    (false, false) => continue,
                };
                if !share_list(name, chosen) && may_be_one_written(name, chosen) {
                    self.put(name.text, chosen.text, None, Some(told));
                }
            }
        }
    }

    /// Unites names that are alike, those of each finish by themselves where there are several, or where a
    /// list itself has one with it and one without.
    fn unite(&mut self, group: &[&Name]) {
        let mut finishes: BTreeMap<&[&str], Vec<&Name>> = BTreeMap::new();
        for name in group {
            finishes.entry(&name.written.finish).or_default().push(name);
        }
        let bare = finishes.get(&[][..]);
        let stated = || finishes.iter().filter(|(finish, _)| !finish.is_empty());
        let told_apart = stated().count() > 1
            || bare.is_some_and(|bare| {
                let of_finish = || stated().flat_map(|(_, names)| names);
                bare.iter().any(|a| of_finish().any(|b| share_list(a, b)))
            });
        match told_apart {
            true => finishes.values().for_each(|names| self.unite_all(names)),
            false => self.unite_all(group),
        }
    }

    /// Unites names that are alike, unless their units or their numbers tell them apart.
    fn unite_all(&mut self, group: &[&Name]) {
        let units = |name: &&&Name| !name.written.units.is_empty();
        let mut stated = group.iter().filter(units);
        let first = stated.next();
        let units_differ =
            stated.any(|name| Some(&name.written.units) != first.map(|n| &n.written.units));
        let told_apart = group.iter().enumerate().any(|(at, a)| {
            let numbered = |b: &&&Name| {
                share_list(a, b)
                    && !a.numbers.is_empty()
                    && !b.numbers.is_empty()
                    && a.numbers.is_disjoint(&b.numbers)
            };
            group[at + 1..].iter().any(|b| numbered(&b))
        });
        let Some(chosen) = group.iter().min_by_key(|name| (!name.required, name.text)) else {
            return;
        };
        if units_differ || told_apart {
            return;
        }
        for name in group.iter().filter(|name| name.text != chosen.text) {
            let told = if name.written.in_order != chosen.written.in_order {
                Some("the same words in another order")
            } else if name.written.units != chosen.written.units {
                Some("only one of the two states the unit")
            } else if name.written.finish != chosen.written.finish {
                Some("only one of the two states the finish")
            } else {
                None
            };
            self.put(name.text, chosen.text, None, told);
        }
    }

    /// Takes two names for one that bear one number, where the lists give neither another number and the
    /// one is no name of a required list.
    fn unite_numbered(&mut self, names: &[Name]) {
        let mut required: FxHashMap<&str, BTreeSet<&str>> = FxHashMap::default();
        for name in names.iter().filter(|name| name.required) {
            for number in &name.numbers {
                let of_number = required.entry(number).or_default();
                of_number.insert(self.canonical(name.text));
            }
        }
        // What a name is called elsewhere, by all of the numbers that it bears under any spelling.
        let mut numbers: FxHashMap<&str, (bool, BTreeSet<&str>)> = FxHashMap::default();
        for name in names {
            let (required, numbers) = numbers.entry(self.canonical(name.text)).or_default();
            *required |= name.required;
            numbers.extend(&name.numbers);
        }
        let mut taught: Vec<(&str, Box<str>, &str)> = Vec::new();
        for name in names {
            let own = self.canonical(name.text);
            let Some((false, bears)) = numbers.get(own).map(|(r, n)| (*r, n)) else {
                continue;
            };
            let mut bears = bears.iter();
            if let (Some(number), None) = (bears.next(), bears.next())
                && let Some(meant) = required.get(number)
                && let (Some(meant), 1) = (meant.first(), meant.len())
            {
                taught.push((name.text, (*meant).into(), number));
            }
        }
        for (name, meant, number) in taught {
            let why = format!("both bear part number {number}");
            self.put(name, &meant, Some(number), Some(&why));
        }
    }

    /// Takes a name of a required list and another for one that alone bear a mark, where the one says
    /// all that the other says. A kit's pieces are marked so that they can be told apart (common practice,
    /// no source).
    fn unite_marked(&mut self, names: &[Name]) {
        let mut bearing: FxHashMap<String, Bearing> = FxHashMap::default();
        for name in names {
            let numbers = name.numbers.iter();
            let numbers = numbers.map(|number| (number.to_lowercase(), Some(*number)));
            let own = name.written.words.marks();
            let own = own.map(|mark| (mark.to_owned(), None));
            for (mark, number) in own.chain(numbers) {
                let bearing = bearing.entry(mark).or_default();
                bearing.number = bearing.number.or(number.filter(|_| name.required));
                let names = match name.required {
                    true => &mut bearing.required,
                    false => &mut bearing.others,
                };
                let known = names.entry(self.canonical(name.text).into()).or_default();
                known.push(name);
            }
        }
        for (mark, bearing) in bearing {
            let Bearing {
                required,
                others,
                number,
            } = bearing;
            let (Some((meant, asked)), 1) = (required.first_key_value(), required.len()) else {
                continue;
            };
            let mut others = others.into_iter().filter(|(name, _)| name != meant);
            let (Some((_, other)), None) = (others.next(), others.next()) else {
                continue;
            };
            let (a, b) = (asked[0], other[0]);
            let apart =
                !a.numbers.is_empty() && !b.numbers.is_empty() && a.numbers.is_disjoint(&b.numbers);
            let one_side = a.written.words.one_side(&b.written.words);
            if apart || !one_side || !a.written.may_be(&b.written) {
                continue;
            }
            let why = format!(
                "both bear the mark {}, and nothing else does",
                mark.to_uppercase()
            );
            match b
                .numbers
                .iter()
                .find(|number| number.eq_ignore_ascii_case(&mark))
            {
                Some(number) => {
                    for name in asked {
                        let told = format!("\"{}\" is taken for \"{}\": {why}", b.text, name.text);
                        self.know_by(name.text, meant, number, told);
                    }
                }
                None => {
                    for name in &other {
                        self.put(name.text, meant, number, Some(&why));
                    }
                }
            }
        }
    }

    /// Takes a name of a required list and another for one of which the one says no more than the other, where no
    /// other name of the lists can be either. Common practice, no source.
    fn unite_shorter(&mut self, names: &[Name], says_less: SaysLess) {
        let mut groups: IndexMap<&str, Vec<&Name>, FxBuildHasher> = IndexMap::default();
        for name in names {
            groups
                .entry(self.canonical(name.text))
                .or_default()
                .push(name);
        }
        let groups: Vec<(Box<str>, Vec<&Name>)> = groups
            .into_iter()
            .map(|(name, all)| (name.into(), all))
            .collect();
        let mut of_noun: FxHashMap<&str, Vec<usize>> = FxHashMap::default();
        for (at, (_, names)) in groups.iter().enumerate() {
            for noun in names.iter().flat_map(|name| name.written.nouns()) {
                let of = of_noun.entry(noun).or_default();
                if of.last() != Some(&at) {
                    of.push(at);
                }
            }
        }
        // By group: those that it may be one with, as the shorter or the longer, and why.
        let mut may_be: Vec<BTreeMap<usize, &str>> = vec![BTreeMap::new(); groups.len()];
        for of in of_noun.values().filter(|of| of.len() <= MOST_OF_NOUN) {
            let pairs = of
                .iter()
                .flat_map(|short| of.iter().map(move |long| (*short, *long)))
                .filter(|(short, long)| short != long);
            for (short, long) in pairs {
                let longer = || groups[long].1.iter();
                let mut shorter = groups[short].1.iter();
                let why = shorter.find_map(|a| longer().find_map(|b| says_less(a, b)));
                if let Some(why) = why {
                    may_be[short].insert(long, why);
                    may_be[long].insert(short, why);
                }
            }
        }
        let required = |at: usize| groups[at].1.iter().any(|name| name.required);
        // Each of them may be each other, and no list has two of them.
        let are_one = |all: &[usize]| {
            let both = |(at, one): (usize, &usize)| {
                all[at + 1..].iter().all(|other| {
                    let share = |a: &&Name<'_>| groups[*other].1.iter().any(|b| share_list(a, b));
                    may_be[*one].contains_key(other) && !groups[*one].1.iter().any(share)
                })
            };
            let closed = |of: &usize| may_be[*of].len() + 1 == all.len();
            all.iter().all(closed) && all.iter().enumerate().all(both)
        };
        let mut united: Vec<(&str, Box<str>, &str)> = Vec::new();
        for (at, others) in may_be.iter().enumerate() {
            let all: Vec<usize> = others.keys().copied().chain([at]).collect();
            let mut asked = all.iter().filter(|of| required(**of));
            if let (Some(&meant), None) = (asked.next(), asked.next())
                && let Some(why) = others.get(&meant)
                && are_one(&all)
            {
                let names = groups[at].1.iter();
                united.extend(names.map(|name| (name.text, groups[meant].0.clone(), *why)));
            }
        }
        for (name, meant, why) in united {
            self.put(name, &meant, None, Some(why));
        }
    }

    /// Takes names for those that the job says they stand for.
    fn join(&mut self, names: &[Name], joined: &IndexMap<String, String>) {
        let called = |name: &str| {
            let words = Written::of(name).words;
            let alike = names.iter();
            alike.filter(move |name| name.written.words == words)
        };
        for (other, meant) in joined {
            let Some(meant) = called(meant).min_by_key(|name| (!name.required, name.text)) else {
                continue;
            };
            let known_by = meant.numbers.first().filter(|_| meant.numbers.len() == 1);
            let name: Box<str> = self.canonical(meant.text).into();
            for other in called(other).filter(|other| *other.text != *name) {
                let meant = Meant {
                    name: name.clone(),
                    number: known_by.map(|number| (*number).into()),
                    by_job: true,
                    doubt: None,
                };
                self.names.insert(other.text.into(), meant);
            }
        }
    }

    /// Takes a name for the part of a number.
    fn know_by(&mut self, name: &str, meant: &str, number: &str, told: String) {
        let meant = Meant {
            name: meant.into(),
            number: Some(number.into()),
            by_job: false,
            doubt: Some(Doubt::Said(told.into())),
        };
        self.names.insert(name.into(), meant);
    }

    fn put(&mut self, name: &str, meant: &str, number: Option<&str>, told: Option<&str>) {
        let said = |why| format!("\"{name}\" is taken for \"{meant}\": {why}");
        let meant = Meant {
            name: meant.into(),
            number: number.map(Into::into),
            by_job: false,
            doubt: told.map(|why| Doubt::Said(said(why).into())),
        };
        self.names.insert(name.into(), meant);
    }
}

/// The names that bear a mark, by the one that stands for them.
#[derive(Default)]
struct Bearing<'n, 'a> {
    required: BTreeMap<Box<str>, Vec<&'n Name<'a>>>,
    /// The mark, where a required list gives it as the part's number.
    number: Option<&'a str>,
    others: BTreeMap<Box<str>, Vec<&'n Name<'a>>>,
}

/// Why the first of two names may be the second, of which it says less.
type SaysLess = fn(&Name, &Name) -> Option<&'static str>;

fn lacks_dimensions(shorter: &Name, longer: &Name) -> Option<&'static str> {
    let lacks = shorter.written.lacks_dimensions_of(&longer.written);
    (lacks && may_be_one(shorter, longer))
        .then_some("only one of the two states the dimensions, and nothing else is called so")
}

/// What a count says more may be how the pieces are, or what they are of: `defective rails`, `half rails`.
fn lacks_words(shorter: &Name, longer: &Name) -> Option<&'static str> {
    let (a, b) = (&shorter.written, &longer.written);
    let lacks =
        longer.by_maker && shorter.numbers.is_empty() && a.words != b.words && a.is_noun_of(b);
    (lacks && may_be_one(shorter, longer)).then_some("nothing else is called so")
}

/// What a list says of the material stands behind the name, as it does in a column of its own.
fn lacks_tail(shorter: &Name, longer: &Name) -> Option<&'static str> {
    let (head, _) = longer.text.rsplit_once(',').filter(|_| longer.by_maker)?;
    let lacks = shorter.numbers.is_empty() && shorter.written.is_head_of(&longer.written, head);
    (lacks && may_be_one(shorter, longer)).then_some("nothing else is called so")
}

/// True where neither numbers, nor a finish or unit tell two names of the same letters apart.
fn may_be_one_written(a: &Name, b: &Name) -> bool {
    let (own, other) = (a.written.systems(), b.written.systems());
    let one_system = own.is_empty() || other.is_empty() || own == other;
    one_number(a, b) && a.written.finish == b.written.finish && one_system
}

fn may_be_one(a: &Name, b: &Name) -> bool {
    one_number(a, b) && a.written.may_be(&b.written)
}

/// True unless each of the two bears numbers that the other does not.
fn one_number(a: &Name, b: &Name) -> bool {
    a.numbers.is_empty() || b.numbers.is_empty() || !a.numbers.is_disjoint(&b.numbers)
}

/// True where one list uses both names.
fn share_list(a: &Name, b: &Name) -> bool {
    a.lists.iter().any(|list| b.lists.contains(list))
}

#[cfg(test)]
mod tests {
    use super::super::sample::{ListOf, plain};
    use super::*;

    fn list(role: Role, parts: &[&str]) -> List {
        let list = ListOf::new(role, "list.csv");
        let parts = parts.iter();
        parts
            .fold(list, |list, part| {
                list.line(&format!("part {part}"), 1, &plain)
            })
            .list()
    }

    /// `expected`: the name that stands for `name`, and what is said of it.
    #[track_caller]
    fn case(required: &[&str], shipped: &[&str], name: &str, expected: &str, said: &str) {
        let lists = [list(Role::Required, required), list(Role::Shipped, shipped)];
        let names = PartNames::of(&lists, &Job::default());
        let told = names.note(name).map(ToString::to_string);
        assert_eq!(names.canonical(name), expected);
        assert_eq!(told.unwrap_or_default(), said);
    }

    #[test]
    fn names_that_join_nothing_are_told() {
        let lists = [
            list(Role::Required, &["- canopy"]),
            list(Role::Shipped, &["- awning"]),
        ];
        let said = |other: &str, meant: &str| {
            joined_in_vain(
                &lists,
                &IndexMap::from([(other.to_owned(), meant.to_owned())]),
            )
        };
        assert_eq!(said("Awnings", "canopy"), [""; 0]);
        assert_eq!(
            said("awning", "canopi"),
            [
                "[names] \"awning\" = \"canopi\" joins nothing: no list names \"canopi\" (the nearest is \
                 \"canopy\")"
            ]
        );
    }

    #[test]
    fn names_of_one_part() {
        case(
            &["- ridge clip"],
            &["- ridge clips"],
            "ridge clips",
            "ridge clip",
            "",
        );
        case(
            &["- hanger,joist,2x8"],
            &["- joist hanger 2x8"],
            "joist hanger 2x8",
            "hanger,joist,2x8",
            "\"joist hanger 2x8\" is taken for \"hanger,joist,2x8\": the same words in another order",
        );
        case(
            &["- prop 2100"],
            &["- prop 2100 mm"],
            "prop 2100 mm",
            "prop 2100",
            "\"prop 2100 mm\" is taken for \"prop 2100\": only one of the two states the unit",
        );
        case(
            &["- float strap, galvanized"],
            &["- float straps galv"],
            "float straps galv",
            "float strap, galvanized",
            "",
        );
        case(
            &["- corner brace, zinc"],
            &["- corner brace"],
            "corner brace",
            "corner brace, zinc",
            "\"corner brace\" is taken for \"corner brace, zinc\": only one of the two states the finish",
        );
        case(
            &["TB-1 strut"],
            &["TB-1 diagonal"],
            "diagonal",
            "strut",
            "\"diagonal\" is taken for \"strut\": both bear part number TB-1",
        );
    }

    #[test]
    fn names_of_one_mark() {
        let told = "both bear the mark P1, and nothing else does";
        let taken = |a: &str, b: &str| format!("\"{a}\" is taken for \"{b}\": {told}");
        // The slip's mark stands in a column, or among the words.
        case(
            &["- roof post p1, with foot", "- roof post p2"],
            &["P1 posts", "P2 posts"],
            "roof post p1, with foot",
            "roof post p1, with foot",
            &taken("posts", "roof post p1, with foot"),
        );
        case(
            &["- roof post p1, with foot"],
            &["- post p1"],
            "post p1",
            "roof post p1, with foot",
            &taken("post p1", "roof post p1, with foot"),
        );
        // The list's mark is its part's number, of which the name bears several.
        let lists = [
            list(Role::Required, &["P1 posts", "P2 posts"]),
            list(Role::Shipped, &["- roof post p1, with foot", "- post p2"]),
        ];
        let names = PartNames::of(&lists, &Job::default());
        for (name, number) in [("roof post p1, with foot", "P1"), ("post p2", "P2")] {
            assert_eq!(
                (names.canonical(name), names.number(name)),
                ("posts", Some(number))
            );
        }
        // Other words, another side, or two of one mark.
        for (required, shipped) in [
            (&["- roof post p1"][..], &["- rail p1"][..]),
            (&["- post p1, left"], &["- post p1"]),
            (&["- roof post p1", "- base post p1"], &["- post p1"]),
            (&["- roof post p1"], &["- post p1", "- post p1, painted"]),
        ] {
            let last = shipped[0].trim_start_matches("- ");
            case(required, shipped, last, last, "");
        }
    }

    #[test]
    fn a_word_in_two_parts() {
        for (required, shipped) in [
            ("handrail", "hand rails"),
            ("cross bar", "cross-bar"),
            ("floor board 2400", "floorboard 2400"),
            ("bar a-12", "bar a12"),
            ("rail 1200", "rail 1.2 m"),
            ("rail 1200 mm", "rail 120 cm"),
            ("panel 600 x 400", "panel 60 x 40 cm"),
            ("rail 4 ft", "rail 48 in"),
        ] {
            let told = match required {
                "cross bar" => String::new(),
                _ if shipped.ends_with(" m")
                    || shipped.ends_with("cm")
                    || shipped.ends_with("in") =>
                {
                    format!(
                        "\"{shipped}\" is taken for \"{required}\": the same length in another unit"
                    )
                }
                _ => format!(
                    "\"{shipped}\" is taken for \"{required}\": only one of the two parts the word"
                ),
            };
            let [required, shipped] = [required, shipped].map(|name| format!("- {name}"));
            case(
                &[&required],
                &[&shipped],
                &shipped[2..],
                &required[2..],
                &told,
            );
        }
        // A list that has both.
        case(
            &["- hand rail", "- handrail"],
            &["- handrails"],
            "hand rail",
            "hand rail",
            "",
        );
    }

    #[test]
    fn a_shorter_name_of_the_only_one() {
        let dimensions = "only one of the two states the dimensions, and nothing else is called so";
        let taken = |name: &str, meant: &str, why: &str| {
            format!("\"{name}\" is taken for \"{meant}\": {why}")
        };
        for (required, shipped, why) in [
            ("base plate 200 x 200 x 10", "base plates", dimensions),
            ("base plate", "base plate, 200 x 200 mm", dimensions),
            ("top rail 1980 mm", "top rail", dimensions),
            ("cross bar 900", "cross bars", dimensions),
            ("levelling foot m10", "levelling feet", dimensions),
            ("counterweight 10 kg", "counterweights", dimensions),
            (
                "top panel 1960 x 500 with capping",
                "top panel 1960x500",
                "nothing else is called so",
            ),
            ("stepping pod", "pods", "nothing else is called so"),
            ("roof post, with foot", "posts", "nothing else is called so"),
            ("post", "roof post", "nothing else is called so"),
            (
                "gusset plate 10 mm, s235 galv.",
                "gusset plate 10 mm",
                "nothing else is called so",
            ),
            ("beam saddle, lh, s235", "beam saddle lh", dimensions),
            ("cap, pvc", "caps", "nothing else is called so"),
            ("post hea 100", "posts", dimensions),
            ("panel ral 7016", "panels", dimensions),
            ("tank 60 l", "tanks", dimensions),
            (
                "panel frame (grey)",
                "panel frames",
                "nothing else is called so",
            ),
            ("hasp and staple", "hasps", "nothing else is called so"),
            ("trellis panel", "trellis", "nothing else is called so"),
            ("hasp & staple", "hasps", "nothing else is called so"),
        ] {
            let said = taken(shipped, required, why);
            let [required, shipped] = [required, shipped].map(|name| format!("- {name}"));
            let name = &shipped[2..];
            case(&[&required], &[&shipped], name, &required[2..], &said);
        }
        // Two that it may be, another noun, a side, a mark, another finish, and two by one list.
        for (required, shipped, name) in [
            (
                &["- stepping pod", "- climbing pod"][..],
                &["- pods"][..],
                "pods",
            ),
            (
                &["- base plate 200 x 200", "- base plate 150 x 150"],
                &["- base plate"],
                "base plate",
            ),
            (&["- post cap"], &["- post"], "post"),
            (&["- shoe, left"], &["- shoe"], "shoe"),
            (&["- panel 2"], &["- panel"], "panel"),
            (&["- panel p2"], &["- panel"], "panel"),
            (&["- door frame"], &["- door"], "door"),
            (
                &["- tie rod m8 hook/eye"],
                &["- tie rod m8 eye/eye"],
                "tie rod m8 eye/eye",
            ),
            (
                &["- galvanised roof post"],
                &["- stainless post"],
                "stainless post",
            ),
            (&["- cross brace"], &["- cross brace", "- brace"], "brace"),
            (
                &["- rope bridge"],
                &["- rope bridge 2.4 m", "- bridge"],
                "bridge",
            ),
        ] {
            case(required, shipped, name, name, "");
        }
    }

    /// A count's word more may be how the pieces are, or another part; what stands behind `for` is no noun.
    #[test]
    fn longer_names_of_a_count() {
        let counted = |required: &str, counted: &str| {
            let lists = [required, counted].map(|name| format!("- {name}"));
            let lists = [
                list(Role::Required, &[&lists[0]]),
                list(Role::Counted, &[&lists[1]]),
            ];
            let names = PartNames::of(&lists, &Job::default());
            names.canonical(counted).to_owned()
        };
        assert_eq!(counted("roof post", "posts"), "roof post");
        for name in [
            "defective rails",
            "half rails",
            "or so rails",
            "protection sleeve rail",
            "rail, own stock",
        ] {
            assert_eq!(counted("rail", name), name);
        }
        for name in ["lid for tank", "drawing of tank", "support under tank"] {
            case(&["- tank"], &[&format!("- {name}")], name, name, "");
        }
        assert_eq!(counted("pair of hinges", "hinge"), "hinge");
        // The list's, the slip's and the count's, each shorter than the last.
        let lists = [
            list(
                Role::Required,
                &[
                    "- top panel 1960 x 500 with capping",
                    "- floor panel, 1200 x 1800",
                ],
            ),
            list(Role::Shipped, &["- top panels 1960x500"]),
            list(Role::Counted, &["- top panels", "- floor panels"]),
        ];
        let names = PartNames::of(&lists, &Job::default());
        for name in ["top panels 1960x500", "top panels"] {
            assert_eq!(names.canonical(name), "top panel 1960 x 500 with capping");
        }
        assert_eq!(names.canonical("floor panels"), "floor panel, 1200 x 1800");
        // The slip's own name of a number is shortened like the list's.
        let lists = [
            list(Role::Required, &["C1 canopy", "T2 ridge bar"]),
            list(Role::Shipped, &["C1 roof cover 3x3"]),
            list(Role::Counted, &["- roof cover"]),
        ];
        let names = PartNames::of(&lists, &Job::default());
        assert_eq!(names.canonical("roof cover"), "canopy");
    }

    #[test]
    fn names_of_two_parts() {
        // The list itself tells a rail's post and a post's rail apart.
        case(
            &["- rail post", "- post rail"],
            &["- post rails"],
            "post rails",
            "post rail",
            "",
        );
        // Two units: neither is the one without.
        case(
            &["- prop 40"],
            &["- prop 40 mm", "- prop 40 in"],
            "prop 40 mm",
            "prop 40 mm",
            "",
        );
        // Two finishes, or one list with the one and the other.
        case(
            &["- strap, galv"],
            &["- strap, zinc"],
            "strap, zinc",
            "strap, zinc",
            "",
        );
        case(
            &["- strap, galv", "- strap"],
            &["- straps", "- straps HDG"],
            "straps",
            "strap",
            "",
        );
        // One list gives the two names a number each.
        case(
            &["TB-1 clip", "TB-2 clips"],
            &["- clips"],
            "clips",
            "clips",
            "",
        );
        // A name of two numbers teaches nothing.
        case(
            &["TB-1 strut", "TB-2 brace"],
            &["TB-1 diagonal", "TB-2 diagonal"],
            "diagonal",
            "diagonal",
            "",
        );
        // A required list has a part of that name.
        case(
            &["TB-1 strut", "- diagonal"],
            &["TB-1 diagonal"],
            "diagonal",
            "diagonal",
            "",
        );
        case(
            &["- shoe, left"],
            &["- shoe, right"],
            "shoe, right",
            "shoe, right",
            "",
        );
    }
}
