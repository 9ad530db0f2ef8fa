//! What a list says of the kit.

use crate::names::names;

names! {
    /// What a list says of the kit.
    pub enum Role {
        Required = "required",
        Shipped = "shipped",
        Counted = "counted",
        /// A second list of what is required, held against the first and not added to it.
        Compared = "compared",
        /// What the shop or the truck has of its own.
        Stock = "stock",
        /// What lies on the bench when the build is done.
        LeftOver = "left over",
    }
}
