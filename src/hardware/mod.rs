//! What a fastener is: the item, its sizes, and the standard tables.

pub mod grade;
pub mod item;
pub mod size;
pub mod thread;

pub use grade::{Finish, Grade, Material};
pub use item::{Drive, Family, Item, Kind, PartName, Point, Style};
pub use size::{Diameter, Length, Ratio, Unit};
pub use thread::Thread;
