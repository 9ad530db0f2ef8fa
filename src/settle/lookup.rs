//! Finding items of an account by what a person calls them.

use super::{Account, ItemAccount, fit::fit, options::nearest};
use crate::{
    Error, Result,
    notation::{Notation, describe},
};

impl Account {
    /// The items that a text names, in the account's order: by id or maker's number; else by size and
    /// kind, as far as the text states them; else by words in their own text.
    ///
    /// # Errors
    /// No item of that name: names the nearest.
    pub fn look_up(&self, text: &str) -> Result<Vec<&ItemAccount>> {
        let items = |matches: &dyn Fn(&ItemAccount) -> bool| -> Vec<&ItemAccount> {
            self.items.iter().filter(|item| matches(item)).collect()
        };
        let text = text.trim();
        let same = |name: &str| name.eq_ignore_ascii_case(text);
        let mut found = items(&|item| {
            same(&item.id)
                || same(&item.text)
                || item.part_numbers.iter().any(|number| same(number))
        });
        if found.is_empty()
            && let Ok(callouts) = describe(text, Notation::default())
            && let [callout] = callouts.as_slice()
            && callout.item.diameter.is_some()
        {
            found = items(&|item| fit(&item.item, &callout.item).is_some());
        }
        if found.is_empty() && !text.is_empty() {
            let words = text.to_lowercase();
            // Plural is no other part.
            let one = words.strip_suffix('s').filter(|one| one.len() > 2);
            for words in [Some(words.as_str()), one].into_iter().flatten() {
                if found.is_empty() {
                    found = items(&|item| item.text.to_lowercase().contains(words));
                }
            }
        }
        if found.is_empty() {
            let names: Vec<String> = self.items.iter().map(|item| item.text.clone()).collect();
            return Err(Error::Arguments {
                found: format!("no item of this job is called \"{text}\""),
                todo: match nearest(text, &names) {
                    Some(name) => {
                        format!("write \"{name}\", the nearest, or its id or part number")
                    }
                    None => "write it as the lists do, or its id or part number".to_owned(),
                },
            });
        }
        Ok(found)
    }
}

#[cfg(test)]
mod tests {
    use crate::{
        kit::Job,
        settle::{
            Account,
            sample::{ListOf, stage},
            settle,
        },
    };

    fn account() -> Account {
        let lists = [ListOf::required()
            .numbered("H-625-600", "bolt hex 5/8-11 6 g5", 8, &stage("Rails"))
            .line("bolt hex 5/8-11 6 g8", 8, &stage("Rails"))
            .line("bolt hex 5/8-11 5 g5", 8, &stage("Rails"))
            .line("bolt hex 5/8-18 6 g5", 8, &stage("Rails"))
            .line("part FB-7 ladder hook", 2, &stage("Hooks"))
            .list()];
        settle(&Job::default(), &lists).expect("settles")
    }

    #[track_caller]
    fn case(text: &str, expected: &[&str]) {
        let account = account();
        let found = account.look_up(text).expect("finds");
        let texts: Vec<&str> = found.iter().map(|item| item.text.as_str()).collect();
        assert_eq!(texts, expected, "{text}");
    }

    #[test]
    fn by_what_people_call_them() {
        let (five, eight) = (
            "5/8-11 x 6 hex bolt, Grade 5",
            "5/8-11 x 6 hex bolt, Grade 8",
        );
        case("5/8 x 6 hex bolt", &[five, eight]);
        case("HHCS 5/8\" x 6\" gr 8", &[eight]);
        case("5/8-11 x 6", &[five, eight]);
        case("h-625-600", &[five]);
        case(
            "5/8-11 X 5 Hex bolt, Grade 5",
            &["5/8-11 x 5 hex bolt, Grade 5"],
        );
        case("fb-7", &["ladder hook [part FB-7]"]);
        case("ladder", &["ladder hook [part FB-7]"]);
        case("Ladder hooks", &["ladder hook [part FB-7]"]);
        let account = account();
        case(&account.items[0].id, &[five]);
    }

    #[test]
    fn no_such_item_names_the_nearest() {
        let account = account();
        let error = account.look_up("5/8 x 7 hex bolt");
        let error = error.expect_err("finds nothing").to_string();
        let begins =
            "no item of this job is called \"5/8 x 7 hex bolt\"\n  what to do: write \"5/8-1";
        assert!(error.starts_with(begins), "{error}");
        // Nothing is like it.
        assert_eq!(
            account.look_up("").expect_err("finds nothing").to_string(),
            "no item of this job is called \"\"\n  what to do: write it as the lists do, or its id or part number"
        );
        let error = account.look_up("lader hok").expect_err("finds nothing");
        assert!(
            error
                .to_string()
                .contains("\"ladder hook [part FB-7]\", the nearest")
        );
    }
}
