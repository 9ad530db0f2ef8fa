//! The Summary's live cells: the verdict and the stages follow what is typed into the Count sheet.

use rust_xlsxwriter::RowNum;

use super::{
    super::{
        Report,
        by_stage::{self, State},
        formula::{Cell, literal, range},
        live::StageRows,
    },
    NAME, QUESTION, Rows,
};
use crate::{
    report::wording,
    settle::{Account, StageAccount, Verdict},
};

const CANNOT_SAY: &str = "▲ CAN'T SAY.   ";
const NOTHING: &str = "Nothing is known to be short.";
const OPEN: &str = " Not known to be short: ";

/// The cells that follow what is typed into the Count sheet.
pub struct Answer {
    rows: StageRows,
    names: String,
    states: String,
    standings: Vec<Standing>,
    /// True where nothing but counting stands between the job and a yes.
    wants_counts_only: bool,
}

/// How the lines of a stage stand.
#[derive(Default)]
struct Standing {
    /// Short for sure.
    short: usize,
    /// Covered by an uncounted slip.
    by_slip: usize,
    /// Neither counted in full nor on a slip.
    unknown: usize,
}

impl Standing {
    /// Those of all stages.
    fn of_all(account: &Account) -> Vec<Standing> {
        let mut all: Vec<Standing> = account.stages.iter().map(|_| Standing::default()).collect();
        let items = account.items.iter();
        let shares = items.flat_map(|item| item.shares.iter().map(move |share| (item, share)));
        for (item, share) in shares.filter(|(_, share)| share.required > 0) {
            let stage = &mut all[share.stage];
            match State::of(item, share) {
                State::Short => stage.short += 1,
                State::BySlip => stage.by_slip += 1,
                State::Unknown | State::PartCounted => stage.unknown += 1,
                _ => {}
            }
        }
        all
    }

    /// True where the stage's reasons are no more than these: the first three shortages and one
    /// for the rest, and one each for what the slip covers and what is not known.
    fn explains(&self, stage: &StageAccount) -> bool {
        let short = self.short.min(3) + usize::from(self.short > 3);
        let open = usize::from(self.by_slip > 0) + usize::from(self.unknown > 0);
        stage.reasons.len() == short + open
    }
}

impl Answer {
    /// `None` where the verdict rests on more than what is short.
    pub fn of(report: &Report<'_>, at: &Rows) -> Option<Answer> {
        let account = report.account;
        report.live.as_ref()?;
        let rows = StageRows::of(report)?;
        let standings = Standing::of_all(account);
        let stages = || account.stages.iter().zip(&standings);
        let first_short = standings.iter().position(|s| s.short > 0);
        let plain = account.stops_at == first_short
            && (account.verdict == Verdict::No) == first_short.is_some()
            && stages().all(|(stage, s)| (stage.ready == Verdict::No) == (s.short > 0));
        let any = |open: fn(&Standing) -> usize| usize::from(standings.iter().any(|s| open(s) > 0));
        let reasons = usize::from(first_short.is_some()) + any(|s| s.by_slip) + any(|s| s.unknown);
        let last = at.stages + account.stages.len() as RowNum - 1;
        let explained = stages().all(|(stage, s)| s.explains(stage));
        plain.then(|| Answer {
            rows,
            names: range(NAME, at.stages, last, 1),
            states: range(NAME, at.stages, last, 2),
            wants_counts_only: account.reasons.len() == reasons && explained,
            standings,
        })
    }

    /// The answer, now `settled`.
    pub fn verdict(&self, report: &Report<'_>, settled: &str) -> Option<Cell> {
        if report.job.kits > 1 {
            // What is typed is not followed there: see `Live`.
            let run_again = format!("{QUESTION}{CANNOT_SAY}Run again to settle what was typed.");
            return Some(Cell {
                formula: format!(
                    "=IF(COUNTIF({},\"{}\")>0,{},{})",
                    self.rows.state,
                    State::RunAgain,
                    literal(&run_again)?,
                    literal(settled)?
                ),
                value: settled.to_owned(),
            });
        }
        let first = format!("MATCH(\"{}\",{},0)", State::Short, self.states);
        let stages = report.account.stages.len();
        let built = report
            .account
            .stages
            .iter()
            .filter(|stage| !stage.spare)
            .count();
        let all_ready = match self.wants_counts_only {
            true => wording::verdict(Verdict::Yes).to_owned() + ".   Every stage is covered.",
            false => format!("{CANNOT_SAY}Every stage is covered, but see the reasons."),
        };
        let otherwise = match report.account.verdict {
            Verdict::No => {
                format!("{QUESTION}{CANNOT_SAY}Nothing is short by what was typed: run again.")
            }
            _ => settled.to_owned(),
        };
        let again = format!("{QUESTION}{CANNOT_SAY}Run again to settle what was typed.");
        Some(Cell {
            formula: format!(
                "=IF(ISNUMBER({first}),{no}&{first}&\" of {built}\"&IF(INDEX({names},{first})&\"\"={first}&\"\",\"\",\", \"&INDEX({names},{first}))&\".\",\
                 IF(COUNTIF({states},\"{run_again}\")>0,{again},\
                 IF(COUNTIF({states},\"{ready}\")={stages},{all_ready},{otherwise})))",
                no = literal(&format!("{QUESTION}■ NO.   The build stops at stage "))?,
                names = self.names,
                states = self.states,
                again = literal(&again)?,
                run_again = State::RunAgain,
                ready = wording::readiness(Verdict::Yes),
                all_ready = literal(&format!("{QUESTION}{all_ready}"))?,
                otherwise = literal(&otherwise)?,
            ),
            value: settled.to_owned(),
        })
    }

    /// How much is short, and how much more may be.
    pub fn shortage(&self, account: &Account) -> Cell {
        let items = account.items.iter();
        let (mut short, mut open) = ([0, 0], [0, 0]);
        for (item, share) in items.flat_map(|item| item.shares.iter().map(move |of| (item, of))) {
            let [pieces, rows] = match State::of(item, share) {
                State::Short | State::SpareShort => &mut short,
                _ => &mut open,
            };
            *pieces += share.short;
            *rows += u64::from(share.short > 0);
        }
        let rows = |n: u64| crate::words::count(n, "row");
        let mut value = match short {
            [0, _] => NOTHING.to_owned(),
            [pieces, n] => format!(
                "Pieces short: {pieces}, in {} of {}.",
                rows(n),
                by_stage::NAME
            ),
        };
        if open[0] > 0 {
            value += &format!("{OPEN}{}, in {}.", open[0], rows(open[1]));
        }
        let in_rows = |n: &str| format!("\", in \"&{n}&IF({n}=1,\" row\",\" rows\")");
        let ([pieces, n], [open, open_n]) = (self.rows.short_for_sure(), self.rows.short_perhaps());
        Cell {
            formula: format!(
                "=IF({n}=0,\"{NOTHING}\",\"Pieces short: \"&{pieces}&{}&\" of {}.\")\
                 &IF({open_n}=0,\"\",\"{OPEN}\"&{open}&{}&\".\")",
                in_rows(&n),
                by_stage::NAME,
                in_rows(&open_n),
            ),
            value,
        }
    }

    /// The state of a stage, now `settled`.
    pub fn state(&self, account: &Account, index: usize, settled: &str) -> Option<Cell> {
        let stage = &account.stages[index];
        let number = index + 1;
        let explained = self.standings[index].explains(stage);
        let otherwise = match (stage.ready, explained) {
            (Verdict::No, true) => "▲ can't say: not all is counted",
            (Verdict::No, false) => State::RunAgain.as_str(),
            _ => settled,
        };
        let covered = match explained {
            true => wording::readiness(Verdict::Yes),
            false => otherwise,
        };
        let is = |state| self.rows.standing(number, state);
        Some(Cell {
            formula: format!(
                "=IF({}>0,\"{short}\",IF({}>0,\"{run_again}\",IF({}={},{},{})))",
                is(State::Short),
                is(State::RunAgain),
                is(State::Covered),
                self.rows.lines(number),
                literal(covered)?,
                literal(otherwise)?,
                short = State::Short,
                run_again = State::RunAgain,
            ),
            value: settled.to_owned(),
        })
    }

    /// Pieces of a stage that are covered.
    pub fn covered(&self, index: usize, value: u64) -> Cell {
        Cell {
            formula: format!("={}", self.rows.covered(index + 1)),
            value: value.to_string(),
        }
    }

    /// Pieces of a stage that are short for sure.
    pub fn short(&self, index: usize, value: u64) -> Cell {
        Cell {
            formula: format!("={}", self.rows.short(index + 1)),
            value: value.to_string(),
        }
    }
}
