//! Which pieces may serve in place of which, by the job's rules: more edges for the dealing.
//!
//! A limit holds from the item asked for to the piece used, and does not carry over from one
//! substitute to the next.

use rustc_hash::{FxHashMap, FxHashSet};

use super::{
    deal::{Cost, Way},
    fit::{Fit, fit},
    inventory::Inventory,
    ledger::Ledger,
    lengths::{difference, in_unit_of, reaches},
    stages::Stages,
};
use crate::{
    Result,
    doubt::Doubt,
    hardware::{Diameter, Item, Kind, Length},
    kit::{Job, SubstituteRule},
    notation::{Notation, describe},
    source::{Limit, Limits},
    words::fold,
};

/// One way for a piece to serve as a substitute.
#[derive(Debug, Clone, Copy)]
pub struct Edge {
    pub way: Way,
    /// Index into the job's rules.
    pub rule: usize,
    pub fit: Fit,
}

/// What the job's rules allow.
#[derive(Debug, Default)]
pub struct Allowed {
    /// By item: the entries that it may serve as a substitute.
    pub edges: FxHashMap<usize, Vec<Edge>>,
    /// Stages that ways are limited to.
    pub stages: Vec<Vec<usize>>,
    /// Entries whose pieces may serve another, whether any are on hand or not, and that other.
    pub may_serve: Vec<(usize, usize)>,
    /// What the joints of entries clamp, where a rule says so.
    pub grips: FxHashMap<usize, Length>,
    /// What a person should know of the rules, one sentence each.
    pub notes: Vec<String>,
}

/// What a rule names.
enum Named {
    /// One item of the lists, by its id or its maker's number; none where no list has it.
    Item(Option<Item>),
    /// Everything of which this much is true.
    Pattern(Item),
}

impl Named {
    fn item(&self) -> Option<&Item> {
        match self {
            Named::Item(item) => item.as_ref(),
            Named::Pattern(item) => Some(item),
        }
    }
}

impl Allowed {
    /// Finds the edges that the rules allow between what is wanted and what is on hand.
    ///
    /// # Errors
    /// A rule that does not read as an item, that contradicts itself or another, or that closes a
    /// circle without a limit: each with its file and row.
    pub fn by(
        job: &Job,
        inventory: &Inventory,
        ledger: &Ledger,
        stages: &Stages,
    ) -> Result<Allowed> {
        let rules = &job.substitutes;
        let mut finding = Finding::of(job, inventory, ledger, stages);
        if rules.is_empty() {
            return Ok(finding.allowed);
        }
        finding.refuse_twins()?;
        for (at, rule) in rules.iter().enumerate() {
            finding.take(at, rule)?;
        }
        finding.refuse_disagreement()?;
        finding.look_for_circles()?;
        Ok(finding.allowed)
    }
}

struct Finding<'a> {
    rules: &'a [SubstituteRule],
    limits: Limits,
    inventory: &'a Inventory,
    ledger: &'a Ledger,
    stages: &'a Stages,
    /// Entries that want pieces, by diameter, in order of length.
    wanting: FxHashMap<Option<Diameter>, Vec<usize>>,
    /// Items on hand, and those that may yet be counted, by kind and diameter, in order of length.
    at_hand: FxHashMap<(Option<Kind>, Option<Diameter>), Vec<usize>>,
    /// By item: it is on hand.
    there: Vec<bool>,
    /// Items by maker's number, in lower case; by id where a rule asks for one.
    numbers: FxHashMap<String, usize>,
    ids: Option<FxHashMap<String, usize>>,
    /// Entry, item and rule of each edge.
    found: Vec<(usize, usize, usize)>,
    /// Pairs so far.
    looked_at: usize,
    allowed: Allowed,
}

/// True where a text may be an item's id.
fn may_be_id(text: &str) -> bool {
    text.len() == 8
        && text
            .bytes()
            .all(|b| b.is_ascii_digit() || b.is_ascii_uppercase())
}

/// True where everything that `pattern` states is true of `item`, as far as it is stated.
fn is_one(pattern: &Item, item: &Item) -> bool {
    let silent = |stated: bool, own: bool| stated && !own;
    pattern.agrees(item)
        && ![
            silent(pattern.kind.is_some(), item.kind.is_some()),
            silent(pattern.style.is_some(), item.style.is_some()),
            silent(pattern.diameter.is_some(), item.diameter.is_some()),
            silent(pattern.length.is_some(), item.length.is_some()),
            silent(pattern.outside.is_some(), item.outside.is_some()),
            silent(pattern.grade.is_some(), item.grade.is_some()),
            silent(pattern.finish.is_some(), item.finish.is_some()),
            silent(pattern.head.is_some(), item.head.is_some()),
            silent(pattern.drive.is_some(), item.drive.is_some()),
            silent(pattern.point.is_some(), item.point.is_some()),
            silent(pattern.full_thread.is_some(), item.full_thread.is_some()),
            silent(pattern.part.is_some(), item.part.is_some()),
        ]
        .contains(&true)
}

/// What is asked for, but for what the rule says of the piece used.
fn overlay(asked: &Item, instead: &Item) -> Item {
    let thread = match instead.diameter {
        Some(_) => instead.effective_thread(),
        None => instead.thread.or(asked.thread),
    };
    Item {
        kind: instead.kind.or(asked.kind),
        style: instead.style.or(asked.style),
        called: instead.called.clone().or_else(|| asked.called.clone()),
        diameter: instead.diameter.or(asked.diameter),
        thread,
        length: instead.length.or(asked.length),
        outside: instead.outside.or(asked.outside),
        grade: instead.grade.or(asked.grade),
        finish: instead.finish.or(asked.finish),
        head: instead.head.or(asked.head),
        drive: instead.drive.or(asked.drive),
        point: instead.point.or(asked.point),
        full_thread: instead.full_thread.or(asked.full_thread),
        left_hand: instead.left_hand || instead.diameter.is_none() && asked.left_hand,
        part: instead.part.clone().or_else(|| asked.part.clone()),
    }
}

impl<'a> Finding<'a> {
    fn of(
        job: &'a Job,
        inventory: &'a Inventory,
        ledger: &'a Ledger,
        stages: &'a Stages,
    ) -> Finding<'a> {
        let rules = job.substitutes.as_slice();
        let mut finding = Finding {
            rules,
            limits: job.limits,
            inventory,
            ledger,
            stages,
            wanting: FxHashMap::default(),
            at_hand: FxHashMap::default(),
            there: Vec::new(),
            numbers: FxHashMap::default(),
            ids: None,
            found: Vec::new(),
            looked_at: 0,
            allowed: Allowed::default(),
        };
        if rules.is_empty() {
            return finding;
        }
        for (at, entry) in ledger.entries.iter().enumerate() {
            if !entry.due().is_empty() {
                let diameter = inventory.items[entry.item].identity.diameter;
                finding.wanting.entry(diameter).or_default().push(at);
            }
        }
        finding.there = vec![false; inventory.items.len()];
        for item in ledger.on_hand(inventory) {
            finding.there[item] = true;
        }
        for (item, stated) in inventory.items.iter().enumerate() {
            if finding.there[item] || ledger.entry_of(item).is_some() {
                let key = (stated.identity.kind, stated.identity.diameter);
                finding.at_hand.entry(key).or_default().push(item);
            }
        }
        let length_of = |item: usize| inventory.items[item].identity.length;
        for entries in finding.wanting.values_mut() {
            entries.sort_by_cached_key(|&at| (length_of(ledger.entries[at].item), at));
        }
        for items in finding.at_hand.values_mut() {
            items.sort_by_cached_key(|&item| (length_of(item), item));
        }
        for (at, item) in inventory.items.iter().enumerate() {
            let part = item
                .shown()
                .part
                .as_ref()
                .and_then(|part| part.number.as_ref());
            for number in item.numbers.iter().chain(part) {
                finding.numbers.entry(number.to_lowercase()).or_insert(at);
            }
        }
        finding
    }

    /// The item of an id or a maker's number.
    fn known(&mut self, text: &str) -> Option<usize> {
        if let Some(item) = self.numbers.get(&text.to_lowercase()) {
            return Some(*item);
        }
        if !may_be_id(text) {
            return None;
        }
        let items = &self.inventory.items;
        let ids = self.ids.get_or_insert_with(|| {
            let all = items.iter().enumerate();
            all.map(|(at, item)| (item.shown().id(), at)).collect()
        });
        ids.get(text).copied()
    }

    fn named(&mut self, rule: &SubstituteRule, text: &str) -> Result<Named> {
        if let Some(at) = self.known(text) {
            let item = self.inventory.items[at].identity.clone();
            return Ok(Named::Item(Some(item)));
        }
        if may_be_id(text) && text.bytes().any(|b| b.is_ascii_digit()) {
            return Ok(Named::Item(None));
        }
        let not_read = |why: String| {
            Err(rule.error(
                format!("\"{text}\" does not read as one item: {why}"),
                "write a size and a kind as on the lists (1/2 x 3 hex bolt), a family (1/2 hex nut), \
                 an id or a part number",
            ))
        };
        match describe(text, Notation::default()).as_deref() {
            Ok([callout]) => {
                let unclear = callout.doubts.iter().find(|doubt| {
                    matches!(
                        doubt,
                        Doubt::LeftOver(_)
                            | Doubt::UnknownWords(_)
                            | Doubt::Readings(_)
                            | Doubt::DateForSize { .. }
                    )
                });
                match (unclear, callout.quantity) {
                    (Some(doubt), _) => not_read(doubt.to_string()),
                    (None, Some(_)) => not_read("a number of pieces stands in it".to_owned()),
                    (None, None) => Ok(Named::Pattern(callout.item.clone())),
                }
            }
            Ok(callouts) => not_read(format!("{} items are named", callouts.len())),
            Err(_) => not_read("no item is named".to_owned()),
        }
    }

    /// Adds the edges of one rule.
    fn take(&mut self, at: usize, rule: &'a SubstituteRule) -> Result<()> {
        let asked = self.named(rule, &rule.asked)?;
        let instead = match &rule.instead {
            Some(text) => Some(self.named(rule, text)?),
            None => None,
        };
        self.refuse_own_contradiction(rule, &asked, instead.as_ref())?;
        let wanting = self.wanting_of(&asked);
        if wanting.is_empty() {
            self.note(
                rule,
                format!("no required list asks for \"{}\"", rule.asked),
            );
            return Ok(());
        }
        if let (Some(Named::Item(None)), Some(text)) = (&instead, &rule.instead) {
            self.note(rule, format!("\"{text}\" is on no list"));
            return Ok(());
        }
        let Some(only) = self.stages_of(rule) else {
            return Ok(());
        };
        let before = self.found.len();
        for entry in wanting {
            if let Some(grip) = rule.grip {
                self.allowed.grips.insert(entry, grip);
            }
            let own = &self.inventory.items[self.ledger.entries[entry].item].identity;
            let target = match &instead {
                Some(Named::Item(Some(item))) => item.clone(),
                Some(Named::Pattern(pattern)) => overlay(own, pattern),
                Some(Named::Item(None)) | None => own.clone(),
            };
            self.serve(at, rule, entry, &target, only)?;
        }
        if self.found.len() == before {
            let what =
                "no slip, count or stock has a piece that it allows, other than what is asked for";
            self.note(rule, what.to_owned());
        }
        Ok(())
    }

    fn note(&mut self, rule: &SubstituteRule, what: String) {
        self.allowed
            .notes
            .push(format!("{}: {what}", rule.address()));
    }

    /// Entries of the diameter and the length that an item states.
    fn wanting_of_size(&self, item: &Item) -> impl Iterator<Item = usize> {
        let one = item.diameter.and_then(|_| self.wanting.get(&item.diameter));
        let all = item.diameter.is_none().then(|| self.wanting.values());
        let of_diameter = one.into_iter().chain(all.into_iter().flatten());
        let length_of = |entry: usize| {
            let item = self.ledger.entries[entry].item;
            self.inventory.items[item].identity.length
        };
        let asked = item.length;
        of_diameter
            .flat_map(move |entries| match asked {
                None => entries.as_slice(),
                asked => {
                    let from = entries.partition_point(|&entry| length_of(entry) < asked);
                    let to = entries.partition_point(|&entry| length_of(entry) <= asked);
                    &entries[from..to]
                }
            })
            .copied()
    }

    /// Entries that are what a rule asks for.
    fn wanting_of(&self, asked: &Named) -> Vec<usize> {
        let item_of = |entry: usize| &self.inventory.items[self.ledger.entries[entry].item];
        let mut wanting: Vec<usize> = match asked {
            Named::Item(None) => Vec::new(),
            Named::Item(Some(item)) => {
                let of_size = self.wanting_of_size(item);
                of_size
                    .filter(|entry| item_of(*entry).identity == *item)
                    .collect()
            }
            Named::Pattern(pattern) => {
                let of_size = self.wanting_of_size(pattern);
                of_size
                    .filter(|entry| is_one(pattern, item_of(*entry).shown()))
                    .collect()
            }
        };
        wanting.sort_unstable();
        wanting
    }

    /// The stages of a rule: `Some(None)` for all, `None` where the job has none of those it names.
    fn stages_of(&mut self, rule: &SubstituteRule) -> Option<Option<u32>> {
        if rule.stages.is_empty() {
            return Some(None);
        }
        let mut stages = Vec::new();
        for name in &rule.stages {
            match self.stages.of(Some(name)) {
                Some(stage) => stages.push(stage),
                None => self.note(rule, format!("no list names a stage \"{name}\"")),
            }
        }
        if stages.is_empty() {
            return None;
        }
        stages.sort_unstable();
        stages.dedup();
        self.allowed.stages.push(stages);
        Some(Some(self.allowed.stages.len() as u32 - 1))
    }

    /// Adds an edge for each item on hand that is the target, within the limits.
    fn serve(
        &mut self,
        at: usize,
        rule: &SubstituteRule,
        entry: usize,
        target: &Item,
        only: Option<u32>,
    ) -> Result<()> {
        let items = &self.inventory.items;
        let asked = &items[self.ledger.entries[entry].item].identity;
        let Some(at_hand) = self.at_hand.get(&(target.kind, target.diameter)) else {
            return Ok(());
        };
        let length_of = |item: usize| items[item].identity.length;
        // They stand in order of length.
        let near = match target.length.map(|length| lengths(length, rule)) {
            Some((shortest, longest)) => {
                let from = at_hand.partition_point(|&item| length_of(item) < Some(shortest));
                let to = at_hand.partition_point(|&item| length_of(item) <= Some(longest));
                from..to.max(from)
            }
            None => 0..at_hand.len(),
        };
        self.looked_at += near.len();
        let most = self.limits.most(Limit::Pairs);
        if self.looked_at as u64 > most {
            let found = format!(
                "with this rule, more than {most} pairs of pieces may stand in for one another"
            );
            return Err(self.limits.error(Limit::Pairs, rule.at(), &found));
        }
        for &item in &at_hand[near] {
            let own = &items[item].identity;
            if self.ledger.fits.of(item).iter().any(|(of, _)| *of == entry) {
                continue;
            }
            let Some(fit) = within(rule, target, own) else {
                continue;
            };
            if rule.grip.is_some_and(|grip| !reaches(own, grip)) {
                continue;
            }
            if let Some(home) = self.ledger.fits.home(item) {
                self.allowed.may_serve.push((home, entry));
            }
            if !self.there[item] {
                continue;
            }
            let apart = asked.length.zip(own.length);
            let apart = apart.and_then(|(a, b)| difference(a, b)).unwrap_or(0);
            let cost = Cost::own(fit.cost()).apart(apart).as_substitute();
            let way = Way {
                sink: entry,
                cost,
                only,
            };
            let edge = Edge { way, rule: at, fit };
            self.found.push((entry, item, at));
            self.allowed.edges.entry(item).or_default().push(edge);
        }
        Ok(())
    }

    /// A rule that names a piece which its own limits rule out.
    fn refuse_own_contradiction(
        &self,
        rule: &SubstituteRule,
        asked: &Named,
        instead: Option<&Named>,
    ) -> Result<()> {
        let lengths_of = |named: &Named| named.item().and_then(|item| item.length);
        let (Some(asked), Some(used)) = (lengths_of(asked), instead.and_then(lengths_of)) else {
            return Ok(());
        };
        if rule.longer_by.is_none() && rule.shorter_by.is_none() {
            return Ok(());
        }
        let (shortest, longest) = lengths(asked, rule);
        if (shortest..=longest).contains(&used) {
            return Ok(());
        }
        Err(rule.error(
            format!("the rule contradicts itself: {used} is beyond its own limits for {asked}"),
            "mend the limit, or take it out: the piece is named in full",
        ))
    }

    /// Two rules that say the same with different limits: which of them holds?
    fn refuse_twins(&self) -> Result<()> {
        let mut seen: FxHashMap<(String, Option<String>), Vec<&SubstituteRule>> =
            FxHashMap::default();
        for rule in self.rules {
            let key = (fold(&rule.asked), rule.instead.as_deref().map(fold));
            let before = seen.entry(key).or_default();
            let limits = |rule: &SubstituteRule| {
                (rule.longer_by, rule.shorter_by, rule.grades_up, rule.grip)
            };
            let twin = before
                .iter()
                .find(|other| share_a_stage(rule, other) && limits(rule) != limits(other));
            if let Some(other) = twin {
                return Err(rule.error(
                    format!(
                        "the rule for \"{}\" contradicts that in {}: their limits differ",
                        rule.asked,
                        other.address()
                    ),
                    "keep one of the two, or give them different stages",
                ));
            }
            before.push(rule);
        }
        Ok(())
    }

    /// Two rules that allow one piece for one item, and disagree on whether the item is still claimed.
    fn refuse_disagreement(&mut self) -> Result<()> {
        self.found.sort_unstable();
        for edges in self.found.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)) {
            for (at, (entry, item, second)) in edges.iter().enumerate() {
                let second = &self.rules[*second];
                let first = edges[..at]
                    .iter()
                    .map(|(.., rule)| &self.rules[*rule])
                    .find(|first| {
                        first.closes_claim != second.closes_claim && share_a_stage(first, second)
                    });
                if let Some(first) = first {
                    let text = |item: usize| self.inventory.items[item].shown().text();
                    return Err(second.error(
                        format!(
                            "the rule contradicts that in {}: both allow {} for {}, and only one of \
                             them closes the claim",
                            first.address(),
                            text(*item),
                            text(self.ledger.entries[*entry].item)
                        ),
                        "say the same in both, or give them different stages",
                    ));
                }
            }
        }
        Ok(())
    }

    /// Rules by which one item may serve for a second and the second, over others perhaps, for the
    /// first. Pieces are dealt along one edge at a time, so that a circle can do no harm; but without a
    /// limit it says that the items are one, which is for the lists to say.
    fn look_for_circles(&mut self) -> Result<()> {
        let circle = |limited: bool| {
            let edges = self
                .found
                .iter()
                .filter(|(.., rule)| limited || !self.rules[*rule].is_limited());
            let edges: Vec<(usize, usize, usize)> = edges
                .filter_map(|(entry, item, rule)| {
                    let home = self.ledger.fits.home(*item)?;
                    Some((*entry, home, *rule))
                })
                .collect();
            circle(self.ledger.entries.len(), &edges)
        };
        let address = |rule: usize| self.rules[rule].address();
        if let [first, rest @ ..] = circle(false).as_slice() {
            let rule = &self.rules[*first];
            let others: Vec<String> = rest.iter().map(|rule| address(*rule)).collect();
            let found = match others.is_empty() {
                true => "the rule lets items stand in for one another in a circle, without a limit"
                    .to_owned(),
                false => format!(
                    "the rule closes a circle with {}, and none of them has a limit",
                    others.join(" and ")
                ),
            };
            return Err(rule.error(found, "take one of them out, or give one a limit or stages"));
        }
        let round = circle(true);
        if !round.is_empty() {
            let named: Vec<String> = round.iter().map(|rule| address(*rule)).collect();
            self.allowed.notes.push(format!(
                "{}: items may stand in for one another in a circle; the limits make it sound",
                named.join(" and ")
            ));
        }
        Ok(())
    }
}

/// The shortest and the longest that a rule allows for a length.
fn lengths(asked: Length, rule: &SubstituteRule) -> (Length, Length) {
    let by = |limit: Option<Length>| {
        let limit = limit.and_then(|limit| in_unit_of(limit, asked));
        limit.map_or_else(|| 0.into(), Length::value)
    };
    let at = |value| match asked {
        Length::Inch(_) => Length::Inch(value),
        Length::Millimetre(_) => Length::Millimetre(value),
    };
    (
        at(asked.value() - by(rule.shorter_by)),
        at(asked.value() + by(rule.longer_by)),
    )
}

/// How a piece, of a length within the limits, fits a target when what the rule limits by itself is left aside;
/// `None` where it is beyond another limit.
fn within(rule: &SubstituteRule, target: &Item, own: &Item) -> Option<Fit> {
    let steps = target.grade.zip(own.grade);
    let steps = steps.and_then(|(asked, grade)| asked.steps_up_to(grade));
    let graded = steps.is_some_and(|steps| steps <= rule.grades_up);
    let sized = target.length.is_some() && own.length.is_some();
    let [a, b] = [target, own].map(|item| Item {
        length: item.length.filter(|_| !sized),
        grade: item.grade.filter(|_| !graded),
        ..item.clone()
    });
    fit(&a, &b).filter(|fit| !fit.is_vague())
}

/// True where two rules hold in one stage.
fn share_a_stage(a: &SubstituteRule, b: &SubstituteRule) -> bool {
    let any = a.stages.is_empty() || b.stages.is_empty();
    any || a
        .stages
        .iter()
        .any(|stage| b.stages.iter().any(|other| fold(stage) == fold(other)))
}

/// The rules of one circle among edges from entry to entry, each once, in order; none where there is
/// no circle.
fn circle(nodes: usize, edges: &[(usize, usize, usize)]) -> Vec<usize> {
    let mut from = vec![Vec::new(); nodes];
    let mut into = vec![Vec::new(); nodes];
    for &(a, b, rule) in edges {
        from[a].push((b, rule));
        into[b].push(a);
    }
    // What leads nowhere is on no circle; take it away until nothing more goes.
    let mut ways: Vec<usize> = from.iter().map(Vec::len).collect();
    let mut ends: Vec<usize> = (0..nodes).filter(|&node| ways[node] == 0).collect();
    while let Some(end) = ends.pop() {
        for &node in &into[end] {
            ways[node] -= 1;
            if ways[node] == 0 {
                ends.push(node);
            }
        }
    }
    let Some(start) = (0..nodes).find(|&node| ways[node] > 0) else {
        return Vec::new();
    };
    // From here on every node leads to another, until one comes again.
    let mut path: Vec<(usize, usize)> = Vec::new();
    let mut seen = FxHashSet::default();
    let mut node = start;
    while seen.insert(node) {
        let Some(&(next, rule)) = from[node].iter().find(|(next, _)| ways[*next] > 0) else {
            return Vec::new();
        };
        path.push((node, rule));
        node = next;
    }
    let begin = path.iter().position(|(of, _)| *of == node).unwrap_or(0);
    let mut rules: Vec<usize> = path[begin..].iter().map(|(_, rule)| *rule).collect();
    rules.sort_unstable();
    rules.dedup();
    rules
}

#[cfg(test)]
mod tests;
