//! What the items of a job weigh, and who says so: a weighing kept, else a list, else the standard
//! tables; and what that makes of bags, boxes, and the largest lift.

use std::sync::OnceLock;

use indexmap::IndexMap;

use crate::{
    hardware::{Item, Kind, Style, mass},
    kit::{Job, List, MassOf, Placement, Role, Usage},
    settle::{Account, ItemAccount},
    words::count,
};

/// How sure a sum of weights is told: twice and a half its standard error is exceeded once in a
/// hundred times.
const SURE: f64 = 2.576;

/// Who says what a piece weighs.
#[derive(Debug, Clone, PartialEq)]
pub enum Says {
    /// A weighing kept, of that date.
    Weighed(String),
    /// A list, by its index. `open`: it does not say whether the weight is of one piece or of the row,
    /// and one piece is taken, which is the heavier.
    List { list: usize, open: bool },
    /// The standard tables: a rough plan.
    Tables,
}

/// What one piece weighs.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceMass {
    pub grams: f64,
    pub says: Says,
}

/// What the pieces of each item of an account weigh.
pub struct Masses<'a> {
    job: &'a Job,
    lists: &'a [List],
    account: &'a Account,
    /// By item; `None` is not known: never a guess.
    of: Vec<Option<PieceMass>>,
    lift: OnceLock<String>,
}

/// How far the tables may be from a piece: within 8 % for bolts and screws and 12 % for nuts and
/// washers at worst, of published masses (the accuracy that tests/hardware.rs asserts). A list's
/// figure is taken to be no better.
fn error_of(item: &Item) -> f64 {
    match item.kind {
        Some(Kind::Nut | Kind::Washer) => 0.12,
        // No published mass is at hand to hold them against.
        Some(Kind::Pin) => 0.12,
        _ if item.style == Some(Style::Wood) => 0.2,
        _ => 0.08,
    }
}

impl<'a> Masses<'a> {
    pub fn of(job: &'a Job, lists: &'a [List], account: &'a Account) -> Masses<'a> {
        let of = |item: &ItemAccount| {
            if let Some(kept) = job.piece_weights.of(&item.item) {
                return Some(PieceMass {
                    grams: kept.grams(),
                    says: Says::Weighed(kept.date.clone()),
                });
            }
            let listed = listed(lists, item);
            let open = |mass: &PieceMass| matches!(mass.says, Says::List { open: true, .. });
            let tables = || {
                mass(&item.item).map(|mass| PieceMass {
                    grams: mass.0,
                    says: Says::Tables,
                })
            };
            match listed {
                Some(listed) if open(&listed) => tables().or(Some(listed)),
                Some(listed) => Some(listed),
                None => tables(),
            }
        };
        Masses {
            job,
            lists,
            account,
            of: account.items.iter().map(of).collect(),
            lift: OnceLock::new(),
        }
    }

    pub fn piece(&self, item: usize) -> Option<&PieceMass> {
        self.of[item].as_ref()
    }

    /// Who says so, in a few words.
    pub fn says(&self, mass: &PieceMass) -> String {
        match &mass.says {
            Says::Weighed(date) => format!("weighed {date}"),
            Says::List { list, open: false } => self.lists[*list].file.clone(),
            Says::List { list, open: true } => {
                format!("{}, taken as of one piece", self.lists[*list].file)
            }
            Says::Tables => "tables".to_owned(),
        }
    }

    /// A load of pieces of one item more.
    pub fn add(&self, load: &mut Load, item: usize, pieces: u64) {
        load.pieces = load.pieces.saturating_add(pieces);
        let Some(mass) = self.piece(item) else {
            load.unknown.push((item, pieces));
            return;
        };
        let all = mass.grams * pieces as f64;
        load.grams += all;
        load.open |= matches!(mass.says, Says::List { open: true, .. });
        let account = &self.account.items[item];
        let error = match (&mass.says, self.job.piece_weights.of(&account.item)) {
            (Says::Weighed(_), Some(kept)) => {
                load.usual_spread |= kept.variation_usual;
                SURE * kept.standard_error(pieces)
            }
            _ => {
                load.unweighed += 1;
                all * error_of(&account.item)
            }
        };
        load.variance += error * error;
        load.known.push((item, mass.grams));
    }

    /// What each bag holds: of one kit by the required lists where they name bags, else by the slips.
    pub fn bags(&self) -> IndexMap<&'a str, Load> {
        self.contents(|p| p.bag.as_deref(), [Role::Required, Role::Shipped])
    }

    /// What each box holds: by the slips where they name boxes, else of one kit by the required lists.
    pub fn boxes(&self) -> IndexMap<&'a str, Load> {
        self.contents(|p| p.carton.as_deref(), [Role::Shipped, Role::Required])
    }

    fn contents(
        &self,
        name: fn(&'a Placement) -> Option<&'a str>,
        roles: [Role; 2],
    ) -> IndexMap<&'a str, Load> {
        let mut found = IndexMap::new();
        for role in roles {
            found = self.contents_by(name, role);
            if !found.is_empty() {
                break;
            }
        }
        // 2 before 10.
        found.sort_by(|a, _, b, _| (a.len(), a).cmp(&(b.len(), b)));
        found
    }

    fn contents_by(
        &self,
        name: fn(&'a Placement) -> Option<&'a str>,
        role: Role,
    ) -> IndexMap<&'a str, Load> {
        let mut containers: IndexMap<&'a str, IndexMap<usize, u64>> = IndexMap::new();
        for (index, item) in self.account.items.iter().enumerate() {
            let evidence = match role {
                Role::Required => &item.required_by,
                _ => &item.shipped_by,
            };
            for e in evidence {
                let list = &self.lists[e.list];
                for line in list.lines_in(e.sheet, &e.rows) {
                    let placement = list.placement_of(line);
                    let of_item = list
                        .reading_of(line)
                        .is_some_and(|reading| reading.item.kind == item.item.kind);
                    let new = matches!(placement.usage, None | Some(Usage::New));
                    let built = placement
                        .option
                        .as_ref()
                        .is_none_or(|rule| rule.holds(&self.job.with));
                    let (true, true, true, Some(name), Some(each)) =
                        (of_item, new, built, name(placement), line.quantity)
                    else {
                        continue;
                    };
                    let pieces = each.saturating_mul(line.places.into());
                    let sum = containers
                        .entry(name)
                        .or_default()
                        .entry(index)
                        .or_default();
                    *sum = sum.saturating_add(pieces);
                }
            }
        }
        containers
            .into_iter()
            .map(|(name, items)| {
                let mut load = Load::default();
                for (item, pieces) in items {
                    self.add(&mut load, item, pieces);
                }
                (name, load)
            })
            .collect()
    }

    /// The heaviest thing to be lifted, as far as is known, and how much is not.
    pub fn largest_lift(&self) -> &str {
        self.lift.get_or_init(|| self.find_largest_lift())
    }

    fn find_largest_lift(&self) -> String {
        let items = &self.account.items;
        let required = || (0..items.len()).filter(|&item| items[item].sums.required > 0);
        let mut largest: Option<(f64, String)> = None;
        let mut lift = |grams: f64, words: String| {
            if largest.as_ref().is_none_or(|(most, _)| grams > *most) {
                largest = Some((grams, words));
            }
        };
        for item in required() {
            if let Some(mass) = self.piece(item) {
                let by = match mass.says {
                    Says::Tables => "by the tables".to_owned(),
                    Says::List { .. } => format!("by {}", self.says(mass)),
                    Says::Weighed(_) => self.says(mass),
                };
                lift(
                    mass.grams,
                    format!("{}, {} a piece ({by})", items[item].text, heavy(mass.grams)),
                );
            }
        }
        for (noun, containers) in [("box", self.boxes()), ("bag", self.bags())] {
            for (name, load) in containers {
                let unknown: u64 = load.unknown.iter().map(|(_, pieces)| pieces).sum();
                let more = match unknown {
                    0 => String::new(),
                    _ => format!(" and {} of no known mass", count(unknown, "piece")),
                };
                lift(
                    load.grams,
                    format!("{noun} {name}, {}{more}", heavy(load.grams)),
                );
            }
        }
        let unknown: Vec<u64> = required()
            .filter(|&item| self.piece(item).is_none())
            .map(|item| items[item].sums.required)
            .collect();
        let rest = match unknown.len() as u64 {
            0 => "Every piece has a known mass.".to_owned(),
            n => format!(
                "▲ {} of {} have no known mass: any of them may be heavier.",
                count(unknown.iter().sum(), "piece"),
                count(n, "item")
            ),
        };
        let known = |item: &usize| self.piece(*item).is_some();
        let parts = required().filter(|&item| items[item].item.part.is_some());
        let parts: Vec<usize> = parts.collect();
        match largest {
            // A bolt is not what makes a lift heavy.
            _ if !parts.is_empty() && !parts.iter().any(known) => {
                format!("No mass is known of any part that is not hardware. {rest}")
            }
            Some((_, words)) => format!("The heaviest known is {words}. {rest}"),
            None => rest,
        }
    }
}

/// The avoirdupois pound in grams, exactly.
pub const POUND_G: f64 = 453.592_37;

/// A mass as it is lifted: `84 kg (185 lb)`.
fn heavy(grams: f64) -> String {
    let rounded = |value: f64| match value >= 10.0 {
        true => format!("{value:.0}"),
        false => format!("{value:.1}"),
    };
    let (kg, lb) = (grams / 1000.0, grams / POUND_G);
    match grams < 100.0 {
        true => format!("{grams:.0} g"),
        false => format!("{} kg ({} lb)", rounded(kg), rounded(lb)),
    }
}

/// What the lists state of an item: the heaviest, where they differ.
fn listed(lists: &[List], item: &ItemAccount) -> Option<PieceMass> {
    let evidence = item.required_by.iter().chain(&item.shipped_by);
    let stated = evidence.flat_map(|e| {
        let list = &lists[e.list];
        let lines = list.lines_in(e.sheet, &e.rows);
        lines.filter_map(move |line| {
            let mass = list.mass_of(line)?;
            let pieces = line.quantity.unwrap_or(0) * u64::from(line.places);
            let (share, open) = match mass.of {
                MassOf::Piece => (1, false),
                MassOf::Row if pieces == 0 => return None,
                MassOf::Row => (pieces, false),
                MassOf::Unstated => (1, pieces != 1),
            };
            Some(PieceMass {
                grams: mass.milligrams as f64 / 1000.0 / share as f64,
                says: Says::List { list: e.list, open },
            })
        })
    });
    let open = |mass: &PieceMass| matches!(mass.says, Says::List { open: true, .. });
    stated.reduce(|a, b| match (open(&a), open(&b)) {
        (true, false) => b,
        (false, true) => a,
        _ if b.grams > a.grams => b,
        _ => a,
    })
}

/// Pieces and what they weigh, as far as is known.
#[derive(Debug, Default)]
pub struct Load {
    pub pieces: u64,
    pub grams: f64,
    /// Squares of what each item may be out by.
    variance: f64,
    /// Items (by index) and the grams of one piece.
    pub known: Vec<(usize, f64)>,
    /// Items (by index) of no known mass, and their pieces.
    pub unknown: Vec<(usize, u64)>,
    /// How many items were not weighed.
    pub unweighed: usize,
    /// The spread of a weighing was the usual one.
    pub usual_spread: bool,
    /// A list leaves open whether its weight is of one piece.
    pub open: bool,
}

impl Load {
    /// What the sum may be out by, in grams.
    pub fn tolerance(&self) -> f64 {
        self.variance.sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        kit::{RowMass, StatedMass},
        settle::{
            sample::{ListOf, bag, plain, stage},
            settle,
        },
        weigh::kept::PieceWeights,
    };

    fn with_mass(of: MassOf, kilograms: u64) -> impl Fn(&mut List) {
        move |list| {
            let last = list.lines.last().expect("a line");
            list.masses.push(RowMass {
                sheet: last.sheet,
                row: last.row,
                mass: StatedMass {
                    milligrams: kilograms * 1_000_000,
                    of,
                },
            });
        }
    }

    fn lift(job: &Job, lists: &[List]) -> String {
        let account = settle(job, lists).expect("settles");
        Masses::of(job, lists, &account).largest_lift().to_owned()
    }

    #[test]
    fn the_heaviest_known_and_what_is_not() {
        let job = Job::default();
        let parts = || {
            ListOf::required()
                .line("part TB-1 girder", 2, &stage("one"))
                .edit(with_mass(MassOf::Piece, 84))
                .line("part TB-2 post", 12, &stage("one"))
        };
        assert_eq!(
            lift(&job, &[parts().list()]),
            "The heaviest known is girder [part TB-1], 84 kg (185 lb) a piece (by parts.csv). \
             ▲ 12 pieces of 1 item have no known mass: any of them may be heavier."
        );
        // 60 kg of 12 are 5 each; of one piece or of the row is open, so 90 are taken.
        let all = parts()
            .edit(with_mass(MassOf::Row, 60))
            .line("part TB-3 deck panel", 3, &stage("two"))
            .edit(with_mass(MassOf::Unstated, 90))
            .list();
        assert_eq!(
            lift(&job, &[all]),
            "The heaviest known is deck panel [part TB-3], 90 kg (198 lb) a piece \
             (by parts.csv, taken as of one piece). Every piece has a known mass."
        );
        // A bolt tells nothing of the lift where no part has a mass.
        let bolts = ListOf::required().line("bolt hex 1/2 6", 8, &plain);
        assert_eq!(
            lift(&job, &[bolts.line("part TB-2 post", 12, &plain).list()]),
            "No mass is known of any part that is not hardware. \
             ▲ 12 pieces of 1 item have no known mass: any of them may be heavier."
        );
        let lists = [parts().edit(with_mass(MassOf::Row, 60)).list()];
        let account = settle(&job, &lists).expect("settles");
        let masses = Masses::of(&job, &lists, &account);
        assert_eq!(masses.piece(1).expect("a mass").grams, 5_000.0);
    }

    #[test]
    fn a_box_is_lifted_whole() {
        // The slip's boxes go before the list's.
        let of_list = |_: &mut crate::kit::Line, p: &mut Placement| p.carton = Some("9".into());
        let slip = ListOf::shipped()
            .line("part TB-1 girder", 2, &|_, p| p.carton = Some("7".into()))
            .line("part TB-2 post", 12, &|_, p| p.carton = Some("7".into()))
            .list();
        let parts = ListOf::required()
            .line("part TB-1 girder", 2, &of_list)
            .edit(with_mass(MassOf::Piece, 20))
            .line("part TB-2 post", 12, &plain)
            .list();
        assert_eq!(
            lift(&Job::default(), &[parts, slip]),
            "The heaviest known is box 7, 40 kg (88 lb) and 12 pieces of no known mass. \
             ▲ 12 pieces of 1 item have no known mass: any of them may be heavier."
        );
    }

    /// A weighing goes before the tables, and is told closer.
    #[test]
    fn a_weighing_goes_before_geometry() {
        let file = tempfile::NamedTempFile::new().expect("a file");
        let kept = "item,piece weight g,variation %,variation from,pieces,date\n\
                    1/2 hex nut,17.4,0.8,samples,60,2026-05-02\n";
        std::fs::write(file.path(), kept).expect("writes");
        let job = Job {
            piece_weights: PieceWeights::read(file.path()).expect("reads"),
            ..Job::default()
        };
        let lists = [ListOf::required()
            .line("nut hex 1/2", 100, &bag("A"))
            .line("bolt hex 1/2 3", 10, &bag("B"))
            .list()];
        let account = settle(&job, &lists).expect("settles");
        let masses = Masses::of(&job, &lists, &account);
        let bags = masses.bags();
        assert_eq!(bags["A"].grams.round(), 1740.0);
        // By hand: 2.576 standard errors of 2.273 g.
        assert!((bags["A"].tolerance() - 5.857).abs() < 0.01);
        assert_eq!((bags["A"].unweighed, bags["B"].unweighed), (0, 1));
    }
}
