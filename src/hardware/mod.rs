//! What a fastener is: the item, its sizes, and the standard tables.

pub mod grade;
pub mod item;
pub mod size;
pub mod thread;

pub use grade::{Finish, Grade, Material};
pub use item::{Item, Kind, PartName, Style};
pub use size::{Diameter, Length, Ratio, Unit};
pub use thread::Thread;
