//! What the job is: the job file, the lists, their lines.

mod count;
pub mod draft;
mod guide;
pub mod job;
mod job_file;
mod labels;
pub mod list;
mod placement;
mod reader;
mod stated_mass;
pub mod substitute;
mod tray;
mod twice;
mod weighed;

pub use job::Job;
pub use labels::{LabelStock, Page};
pub use list::{
    Aside, Line, LineStatus, List, OptionRule, Placement, Reading, Role, RowTally, SheetRead,
    Usage, What, Words,
};
pub use stated_mass::{MassOf, StatedMass};
pub use substitute::SubstituteRule;
pub use tray::{BinPer, Tray};
pub use twice::{Again, AgainKind, Difference, SheetUse};
