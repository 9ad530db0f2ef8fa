//! `--limit`: how much one file may ask for.
//!
//! Limits are set on the command line alone. A job file that came with the lists may not lift what
//! guards against them.

use crate::source::{Limit, Limits};

#[derive(clap::Args)]
pub struct LimitArgs {
    /// Raise or lower a limit on what one file or job may ask for: file-mb, unpacked-mb, part-mb, cells,
    /// rows, row-kb, text-mb, pairs or parcels; the README lists them. May be given again.
    #[arg(long, value_name = "NAME=N", value_parser = limit)]
    limit: Vec<(Limit, u64)>,
}

impl LimitArgs {
    /// The limits: the usual ones, and those given in their place.
    pub fn limits(&self) -> Limits {
        let mut limits = Limits::default();
        for &(limit, most) in &self.limit {
            limits.set(limit, most);
        }
        limits
    }
}

fn limit(text: &str) -> Result<(Limit, u64), String> {
    let (name, most) = text.split_once('=').unwrap_or((text, ""));
    let limit = name
        .parse()
        .map_err(|()| format!("the limits are {}", Limit::NAMES.join(", ")))?;
    match most.parse() {
        Ok(most) if most > 0 => Ok((limit, most)),
        _ => Err(format!("write a whole number after {name}=")),
    }
}
