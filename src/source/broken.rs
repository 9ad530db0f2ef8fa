//! What is found wrong with a workbook.

use std::path::Path;

use calamine::{OdsError, XlsError, XlsbError, XlsxError};

use super::limits::{Limit, Limits};
use crate::{
    error::{At, Error},
    shield,
};

pub type Found<T> = std::result::Result<T, Broken>;

/// What a reader found wrong with a workbook.
pub enum Broken {
    Password,
    Damaged(String),
    /// What of it asks for more than a list can need, and by which limit.
    TooLarge(Limit, String),
}

impl Broken {
    pub fn at(self, path: &Path, limits: &Limits) -> Error {
        self.in_sheet(At::file(path), limits)
    }

    pub fn in_sheet(self, at: At, limits: &Limits) -> Error {
        match self {
            Broken::Password => Error::input(
                at,
                "the workbook is protected by a password",
                "open it, save a copy without the password, and give that",
            ),
            Broken::Damaged(reason) => Error::input(
                at,
                format!("the workbook is damaged or cut short ({reason})"),
                "open it in a spreadsheet program and save it again, or ask for it again",
            ),
            Broken::TooLarge(limit, what) => limits.error(limit, at, &what),
        }
    }
}

/// The readers' errors differ in type only.
macro_rules! broken_from {
    ($($error:ident),+) => {
        $(impl From<$error> for Broken {
            fn from(error: $error) -> Broken {
                match error {
                    $error::Password => Broken::Password,
                    error => Broken::Damaged(error.to_string()),
                }
            }
        })+
    };
}
broken_from!(XlsxError, XlsbError, XlsError, OdsError);

/// Elements within elements: a real workbook has a dozen.
pub const DEEPEST: usize = 256;

pub fn damaged(error: impl std::fmt::Display) -> Broken {
    Broken::Damaged(error.to_string())
}

/// ECMA-376-2 (Open Packaging Conventions) forbids document type declarations; entities of one's
/// own come with them.
pub fn own_entities() -> Broken {
    damaged("it declares XML entities of its own, which no workbook does")
}

pub fn too_deep() -> Broken {
    damaged("its XML is nested without end")
}

/// Calls into a reader. What it held is dropped with the file: nothing half-changed is seen again.
pub fn shield<T, E: Into<Broken>>(call: impl FnOnce() -> Result<T, E>) -> Found<T> {
    match shield::shield(call) {
        Some(result) => result.map_err(Into::into),
        None => Err(Broken::Damaged(
            "its contents contradict one another".to_owned(),
        )),
    }
}

/// Why the parsing of a sheet stops before its end.
pub enum Stop {
    Broken(Broken),
    Wrong(Error),
    /// Nobody takes more rows.
    Enough,
}

impl<E: Into<Broken>> From<E> for Stop {
    fn from(error: E) -> Stop {
        Stop::Broken(error.into())
    }
}
