//! What a fastener is: the item, its sizes, and the standard tables.

pub mod dimensions;
pub mod grade;
pub mod heads;
pub mod item;
mod kind;
pub mod lengths;
pub mod mass;
pub mod nuts;
mod part_name;
pub mod part_words;
mod series;
pub mod size;
pub mod thread;
pub mod torque;
pub mod washers;
pub mod wrench;

pub use dimensions::Standard;
pub use grade::{Finish, Grade, Material};
pub use item::{Family, Item};
pub use kind::{Drive, Kind, Point, Style};
pub use lengths::{is_stock_length, thread_length};
pub use mass::{Grams, bulk_volume, mass};
pub use part_name::PartName;
pub use part_words::{PartWords, Written, is_behind_noun, is_property};
pub use size::{Diameter, Length, Ratio, Unit};
pub use thread::Thread;
pub use wrench::{Tool, Wrench, wrench};
