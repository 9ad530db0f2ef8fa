//! What the job is: the job file, the lists, their lines.

mod copies;
mod count;
pub mod draft;
mod guide;
pub mod job;
mod job_file;
mod labels;
mod line;
pub mod list;
pub mod number;
mod open;
mod placement;
mod reader;
mod remark;
mod stated_mass;
pub mod substitute;
mod table;
mod text;
mod tray;
mod twice;
mod weighed;

pub use job::Job;
pub use labels::{LabelStock, Page};
pub use line::{Aside, Line, More, What};
pub use list::{
    LineStatus, List, OptionRule, Placement, Reading, Role, RowTally, SheetRead, Usage, Words,
};
pub use number::NumberRow;
pub use stated_mass::{MassOf, StatedMass};
pub use substitute::SubstituteRule;
pub use text::{Text, TextAt};
pub use tray::{BinPer, Tray};
pub use twice::{Again, AgainKind, Difference, SheetUse};
