//! From a file to a list.

use super::{again::Again, input::Input, list::List, reader, role::Role, twice, weighed};
use crate::notation::Known;

impl List {
    /// Reads a source line by line. `file` is the name to show; `tick` is told now and then how
    /// many rows have been read since it was last told.
    ///
    /// # Errors
    /// A file that cannot be opened or read, or whose columns cannot be told apart.
    pub fn read(
        input: &Input,
        file: String,
        role: Role,
        tick: &(dyn Fn(u64) + Sync),
    ) -> crate::Result<List> {
        let mut list = List::read_rows(input, file, role, tick)?;
        list.weigh(&Known::default());
        Ok(List {
            date: input.date.clone().or(list.date),
            parcel: input.parcel,
            ..list
        })
    }

    fn read_rows(
        input: &Input,
        file: String,
        role: Role,
        tick: &(dyn Fn(u64) + Sync),
    ) -> crate::Result<List> {
        if role == Role::Counted
            && input.columns.is_empty()
            && let Some(list) = weighed::read(input, &file)?
        {
            return Ok(list);
        }
        let read_as = match role {
            Role::Compared => Role::Required,
            role => role,
        };
        let read =
            |again: &[(usize, Again)]| reader::read(input, file.clone(), read_as, again, tick);
        let mut list = read(&[])?;
        if !matches!(role, Role::Counted | Role::Stock | Role::LeftOver) {
            let found = twice::find(&list, &input.sheets);
            // Which sheets are counted bears on how they are read: a sheet may be a stage.
            if !found.again.is_empty() {
                list = read(&found.again)?;
            }
            for (sheet, question) in found.questions {
                list.sheets[sheet].ask(question);
                list.sheets[sheet].may_be_again = true;
            }
        }
        Ok(List { role, ..list })
    }
}
