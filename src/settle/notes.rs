//! Notes among the lines of a slip or a count, which take pieces away from another line of it or contradict that: `4 bolts
//! used`, `Bo says 14 nuts`, `of these rusty: 2 M12 hex nut`. No table of their words is complete. A note names what it is of
//! by the noun alone (`bolts`), and what it says of that is no name: a word behind a noun in the plural (in a compound the
//! first noun stands in the singular: `rail cap`), a verb, a figure that no other list has as a size (common practice, no
//! source). The lines that it names are in doubt.

use rustc_hash::{FxHashMap, FxHashSet};

use super::strange_titles::is_plain;
use crate::{
    doubt::Doubt,
    hardware::{Diameter, Item, Kind, PartName, PartWords, Written, is_behind_noun},
    kit::{Aside, Line, List, Reading, Role, What, remark},
    notation::number_in_words,
    source::Format,
};

/// A list of more lines is no bench count, and a slip of more has no notes written by hand.
const MOST: usize = 10_000;

/// Verbs that no name of a part holds: a name with one is a sentence.
const VERBS: &[&str] = &[
    "is", "are", "was", "were", "be", "been", "has", "have", "had", "does", "did", "will", "would",
    "should",
];

/// Doubts the lines of slips and counts that notes of theirs name.
pub fn doubt_noted(lists: &mut [List]) {
    let told = |list: &List| matches!(list.role, Role::Shipped | Role::Counted);
    for at in 0..lists.len() {
        let list = &lists[at];
        if !told(list) || !(2..=MOST).contains(&list.lines.len()) {
            continue;
        }
        let others = lists.iter().enumerate().filter(|(other, of)| {
            *other != at && (of.role == Role::Required || told(of) && of.role != list.role)
        });
        let names = Names::of(others.map(|(_, of)| of));
        let doubts = names.doubts_of(list);
        for (line, doubt) in doubts {
            lists[at].lines[line].more_mut().doubts.push(doubt);
        }
    }
}

/// What a noun is of: bolts and screws go by one another's names.
fn kind_of(noun: &str) -> Option<Kind> {
    match noun {
        "bolt" | "screw" => Some(Kind::Bolt),
        "stud" => Some(Kind::Rod),
        _ => {
            (Kind::ALL.iter().copied()).find(|kind| *kind != Kind::Part && kind.to_string() == noun)
        }
    }
}

/// The same of a kind.
fn as_noun(kind: Kind) -> Kind {
    match kind {
        Kind::Screw => Kind::Bolt,
        kind => kind,
    }
}

/// A word of a note, as written in small letters, and without the plural.
struct Word {
    written: String,
    singular: Box<str>,
}

impl Word {
    fn all(text: &str) -> Vec<Word> {
        let words = text.split(|c: char| !c.is_alphanumeric());
        let words = words.filter(|word| word.chars().any(char::is_alphabetic));
        words
            .map(|word| {
                let singular = Written::of(word).in_order.into_iter().next();
                let written = word.to_lowercase();
                Word {
                    singular: singular.unwrap_or_else(|| written.as_str().into()),
                    written,
                }
            })
            .collect()
    }

    fn is_plural(&self) -> bool {
        *self.written != *self.singular
    }
}

/// What the other lists name.
#[derive(Default)]
struct Names {
    parts: FxHashSet<PartWords>,
    /// The words of those, and the nouns.
    words: FxHashSet<Box<str>>,
    nouns: FxHashSet<Box<str>>,
    sizes: FxHashSet<(Kind, Diameter)>,
}

/// A line that says something of others.
struct Note {
    row: u32,
    text: Box<str>,
    words: Vec<Word>,
    /// Its own size, where that is sure.
    size: Option<Diameter>,
}

impl Names {
    fn of<'a>(lists: impl Iterator<Item = &'a List>) -> Names {
        let mut names = Names::default();
        for reading in lists.flat_map(|list| &list.readings) {
            let Item { kind, diameter, .. } = reading.item;
            if let Some(name) = name_of(reading) {
                let written = Written::of(name);
                names.nouns.extend(written.noun().map(Into::into));
                names.words.extend(written.in_order.iter().cloned());
                names.parts.insert(written.words);
            } else if let (Some(kind), Some(diameter)) = (kind, diameter) {
                names.sizes.insert((as_noun(kind), diameter));
            }
        }
        names
    }

    fn is_empty(&self) -> bool {
        self.parts.is_empty() && self.sizes.is_empty()
    }

    /// What lines of a list are in doubt by its notes: indices into its lines, each once.
    fn doubts_of(&self, list: &List) -> Vec<(usize, Doubt)> {
        if self.is_empty() {
            return Vec::new();
        }
        let (notes, said) = self.notes(list);
        if notes.is_empty() {
            return Vec::new();
        }
        let mut named: FxHashMap<Noun, Vec<usize>> = FxHashMap::default();
        for (at, line) in list.lines.iter().enumerate() {
            let counts = line.quantity.is_some() && !said.contains(&at);
            if let Some(noun) = list.reading_of(line).filter(|_| counts).and_then(Noun::of) {
                named.entry(noun).or_default().push(at);
            }
        }
        let mut doubts = Vec::new();
        for note in &notes {
            if note.is_of_all(list, self) {
                for at in named.drain().flat_map(|(_, lines)| lines) {
                    doubts.push((at, note.doubt(list)));
                }
            }
            for noun in note.nouns() {
                // Each line is doubted once, whatever number of notes name it.
                let Some(lines) = named.get_mut(&noun) else {
                    continue;
                };
                let of_size = lines.iter().any(|at| note.is_of_size(list, *at));
                lines.retain(|&at| {
                    let is_named = list.lines[at].row != note.row
                        && self.may_name(note, list, at)
                        && (!of_size || note.is_of_size(list, at))
                        && (of_size || note.size.is_none());
                    if is_named {
                        doubts.push((at, note.doubt(list)));
                    }
                    !is_named
                });
            }
        }
        doubts
    }

    /// The notes of a list, and which of its lines they are.
    fn notes(&self, list: &List) -> (Vec<Note>, FxHashSet<usize>) {
        let mut notes = Vec::new();
        let mut said = FxHashSet::default();
        for (at, line) in list.lines.iter().enumerate() {
            let text = list.text_of(line);
            // The figure of a row stands in a column of its own.
            let tells = list.format == Format::Text || line.quantity.is_none();
            let says_where = tells && self.says_where(&text, list.role);
            if self.is_note(list, line) && !says_where {
                let size = list.reading_of(line).and_then(|of| self.sure_size(of));
                notes.push(Note::of(line.row, &text, size));
                said.insert(at);
            }
        }
        for title in list.sheets.iter().flat_map(|of| &of.titles) {
            let note = Note::of(title.row, &title.text, None);
            let says = match (title.inner, list.role) {
                (false, _) => self.says_of_lines(&title.text),
                (true, Role::Shipped) => note.says_more(self) || note.is_of_all(list, self),
                // Of a count, those that nobody knows are asked about by themselves.
                (true, _) => false,
            };
            if says {
                notes.push(note);
            }
        }
        (notes, said)
    }

    /// True for a line that is no plain one of what the lists name.
    fn is_note(&self, list: &List, line: &Line) -> bool {
        match line.what {
            What::Bag { .. } => false,
            What::Aside(_) => matches!(
                list.aside_of(line),
                Some(Aside::NoItem(_) | Aside::InWords(_))
            ),
            What::Item(at) => {
                let reading = &list.readings[at as usize];
                match name_of(reading) {
                    Some(name) => self.is_sentence(name, list, line),
                    None => reading.item.part.is_none() && self.is_vague(reading, list, line),
                }
            }
        }
    }

    /// True for the name of a part that says something of another: `bolts used`, `rail is a leg`.
    fn is_sentence(&self, name: &str, list: &List, line: &Line) -> bool {
        let written = Written::of(name);
        if self.parts.contains(&written.words) {
            return false;
        }
        let words = Word::all(name);
        if words.iter().any(|word| VERBS.contains(&&*word.written)) {
            return true;
        }
        let in_doubt = match line.quantity {
            None => list.format == Format::Text || list.role == Role::Shipped,
            Some(_) => list.doubts_of(line).any(Doubt::is_of_how_many),
        };
        let Some((last, before)) = words.split_last() else {
            return false;
        };
        if self.is_noun(&last.singular) {
            return in_doubt;
        }
        // `rails scratched`, `1 rail please`, `rail scratched`; but `rail cap`.
        let is_state = last.written.len() > 4 && last.written.ends_with("ed");
        let one = is_state || line.quantity == Some(1);
        before
            .iter()
            .any(|word| self.is_noun(&word.singular) && (in_doubt || one || word.is_plural()))
    }

    /// True for hardware without a sure size, and for what is said of a size without a count: `#14 nut` of `Bo says 14
    /// nuts`.
    fn is_vague(&self, reading: &Reading, list: &List, line: &Line) -> bool {
        let unsaid = reading.item.diameter.is_none();
        let open = reading.doubts.iter().any(Doubt::is_open);
        let strange = |doubt: &Doubt| match doubt {
            Doubt::UnknownWords(_) => list.format == Format::Text,
            doubt => doubt.is_of_how_many() && !doubt.is_open(),
        };
        match line.quantity {
            Some(_) => unsaid || open && list.doubts_of(line).any(strange_or_open),
            None => self.sure_size(reading).is_none() || list.doubts_of(line).any(strange),
        }
    }

    /// The size of hardware, where another list has it for its kind, too.
    fn sure_size(&self, reading: &Reading) -> Option<Diameter> {
        let size = reading.item.diameter?;
        let kind = as_noun(reading.item.kind?);
        let open = reading.doubts.iter().any(Doubt::is_open);
        (!open && self.sizes.contains(&(kind, size))).then_some(size)
    }

    /// True for what stands over the lines and says something of them: `legs too short`, `sorry, 3 legs`; but not
    /// `Legs, counted by Mia`, `Rails for shelter 7`, `Roof panels bench count`.
    fn says_of_lines(&self, title: &str) -> bool {
        let clauses = title.split([',', ';', ':', '(', '/', '\u{2013}', '\u{2014}']);
        let clauses = clauses.flat_map(|clause| clause.split(" - "));
        let figure = |word: &str| word.bytes().all(|b| b.is_ascii_digit());
        let mut begun = false;
        let mut says = false;
        for clause in clauses {
            let words: Vec<&str> = clause.split_whitespace().collect();
            for (at, word) in words.iter().enumerate() {
                let Some(noun) = Word::all(word)
                    .pop()
                    .filter(|noun| self.is_noun(&noun.singular))
                else {
                    continue;
                };
                let next = words.get(at + 1).and_then(|next| Word::all(next).pop());
                let told = next.as_ref().is_some_and(|next| {
                    !is_plain(&next.singular)
                        && !is_behind_noun(&next.written)
                        && !self.is_noun(&next.singular)
                });
                let counted = at.checked_sub(1).is_some_and(|at| figure(words[at]));
                let ends = counted && next.is_none() && (begun || at > 1);
                says |= noun.is_plural() && told || ends;
            }
            begun |= !words.is_empty();
        }
        says && !remark::is_all_well(title)
    }

    /// True for a noun without a figure, and where its pieces lie or that all is well with them: `rails on pallet 1`, `M10
    /// nuts all ok`.
    fn says_where(&self, text: &str, role: Role) -> bool {
        let (mut end, mut behind) = (0, None);
        let mut is_counted = false;
        for word in text.split_inclusive(' ') {
            end += word.len();
            let is_noun = Word::all(word)
                .pop()
                .is_some_and(|of| self.is_noun(&of.singular));
            if is_noun {
                behind = Some(end);
            } else if behind.is_none() {
                let word = word.trim();
                let figure = !word.is_empty() && word.bytes().all(|b| b.is_ascii_digit());
                is_counted |= figure || number_in_words(&word.to_lowercase()).is_some();
            }
        }
        let tail = behind.map_or("", |behind| text[behind..].trim());
        !is_counted && !tail.is_empty() && remark::is_harmless(tail, role)
    }

    fn is_noun(&self, word: &str) -> bool {
        self.nouns.contains(word) || kind_of(word).is_some()
    }

    /// True unless the note names another part with that noun: `rear legs`, where the line says `front legs`.
    fn may_name(&self, note: &Note, list: &List, at: usize) -> bool {
        let line = &list.lines[at];
        let Some(name) = list.reading_of(line).and_then(name_of) else {
            return true;
        };
        let own = Written::of(name);
        let is_noun = |word: &Word| own.noun() == Some(&*word.singular);
        let mut places = (0..note.words.len()).filter(|at| is_noun(&note.words[*at]));
        places.any(|at| {
            let before = |back: usize| Some(&note.words[at.checked_sub(back)?]);
            let names_other = |word: &Word| {
                let known = self.words.contains(&word.singular);
                known && !own.in_order.contains(&word.singular)
            };
            let row = before(2).is_some_and(|word| matches!(&*word.written, "and" | "or"));
            row || !before(1).is_some_and(names_other)
        })
    }
}

/// True for any doubt of what was read.
fn strange_or_open(doubt: &Doubt) -> bool {
    matches!(doubt, Doubt::UnknownWords(_)) || doubt.is_of_how_many()
}

/// What a part is called.
fn name_of(reading: &Reading) -> Option<&str> {
    let PartName { description, .. } = reading.item.part.as_deref()?;
    description.as_deref()
}

/// What a note names a line by.
#[derive(PartialEq, Eq, Hash)]
enum Noun {
    Kind(Kind),
    Part(Box<str>),
}

impl Noun {
    fn of(reading: &Reading) -> Option<Noun> {
        match name_of(reading) {
            Some(name) => Written::of(name).noun().map(|noun| Noun::Part(noun.into())),
            None => reading.item.kind.map(|kind| Noun::Kind(as_noun(kind))),
        }
    }
}

impl Note {
    fn of(row: u32, text: &str, size: Option<Diameter>) -> Note {
        Note {
            row,
            text: text.trim().into(),
            words: Word::all(text),
            size,
        }
    }

    /// The nouns that it names, and that may be of lines.
    fn nouns(&self) -> impl Iterator<Item = Noun> {
        let words = self.words.iter().map(|word| &word.singular);
        words.flat_map(|word| {
            let kind = kind_of(word).map(Noun::Kind);
            kind.into_iter().chain([Noun::Part(word.clone())])
        })
    }

    /// True where it says more than names of the lists do: `second rail follows`, but not `Bolts and nuts`.
    fn says_more(&self, names: &Names) -> bool {
        let named = |word: &Word| names.is_noun(&word.singular);
        let known = |word: &Word| {
            named(word) || names.words.contains(&word.singular) || is_plain(&word.singular)
        };
        self.words.iter().any(named) && self.words.iter().any(|word| !known(word))
    }

    /// True where it names no item, and says that not all was sent: `rest follows`, `bag 2 follows`, `part delivery`.
    fn is_of_all(&self, list: &List, names: &Names) -> bool {
        const PARTS: &[&str] = &["part", "partial", "partly", "split"];
        const OF: &[&str] = &[
            "delivery",
            "shipment",
            "consignment",
            "parcel",
            "order",
            "rest",
            "remainder",
            "balance",
            "other",
            "remaining",
            "bag",
            "box",
            "carton",
            "crate",
            "pallet",
        ];
        let has = |words: &[&str]| {
            self.words
                .iter()
                .any(|word| words.contains(&&*word.singular))
        };
        let names_none = !self.words.iter().any(|word| names.is_noun(&word.singular));
        list.role == Role::Shipped
            && names_none
            && (has(OF) && (has(PARTS) || remark::not_sent(&self.text).is_some())
                || has(&["incomplete"])
                || has(&["not"]) && has(&["complete"]))
    }

    /// True where a line is of the size that it names.
    fn is_of_size(&self, list: &List, at: usize) -> bool {
        let size = list
            .reading_of(&list.lines[at])
            .and_then(|of| of.item.diameter);
        let Some(size) = size else { return false };
        let written = || {
            let size = size.to_string();
            let mut words = self
                .text
                .split(|c: char| c.is_whitespace() || ",;:()".contains(c));
            words.any(|word| word.eq_ignore_ascii_case(&size))
        };
        self.size == Some(size) || written()
    }

    /// Where it names no figure, less is there, if anything; by a figure, more may be.
    fn doubt(&self, list: &List) -> Doubt {
        match self.text.contains(|c: char| c.is_ascii_digit()) {
            true => Doubt::HowMany(
                format!(
                    "{} {} says \"{}\", which may change how many",
                    list.row_noun(),
                    self.row,
                    self.text
                )
                .into(),
            ),
            false => Doubt::Remark(self.text.clone()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample::{ListOf, plain};
    use super::*;
    use crate::kit::Title;

    fn required() -> List {
        let list = ListOf::required().line("part - trestle leg", 4, &plain);
        let list = list.line("part - bench leg", 4, &plain);
        let list = list.line("part - rail", 2, &plain);
        list.line("bolt hex 1/2 3", 16, &plain)
            .line("nut hex 1/2", 16, &plain)
            .line("nut hex 3/8", 16, &plain)
            .list()
    }

    /// The lines of a list that are in doubt.
    fn doubted(list: List) -> Vec<usize> {
        let mut lists = [required(), list];
        doubt_noted(&mut lists);
        let in_doubt = lists[1].lines.iter().enumerate();
        in_doubt
            .filter(|(_, line)| !line.doubts().is_empty())
            .map(|(at, _)| at)
            .collect()
    }

    fn lines(list: ListOf) -> ListOf {
        list.line("part - trestle leg", 4, &plain)
            .line("part - bench leg", 4, &plain)
            .line("part - rail", 2, &plain)
            .line("bolt hex 1/2 3", 16, &plain)
            .line("nut hex 1/2", 16, &plain)
            .line("nut hex 3/8", 16, &plain)
    }

    // Common practice, no source.
    #[test]
    fn where_pieces_lie_and_that_all_is_well() {
        let names = Names::of([required()].iter());
        for (text, harmless) in [
            ("rails on pallet 1", true),
            ("nuts and bolts in bag 2", true),
            ("M10 nuts all ok", true),
            ("rails", false),
            ("2 rails ok", false),
            ("two rails on pallet 1", false),
            ("rails 3", false),
            ("rails scratched", false),
            ("nuts used in bag 2", false),
        ] {
            assert_eq!(names.says_where(text, Role::Counted), harmless, "{text}");
        }
    }

    // Common practice, no source.
    #[test]
    fn names_that_say_something_of_others() {
        for (name, pieces, expected) in [
            ("rails scratched", 2, &[2][..]),
            ("rail please", 1, &[2]),
            ("rail scratched", 2, &[2]),
            ("rail is a leg", 3, &[0, 1, 2]),
            ("bolts used", 4, &[3]),
            ("nuts fell in the river", 2, &[4, 5]),
            ("bench legs lost", 2, &[1]),
            ("rail cap", 2, &[]),
            ("nut tray", 2, &[]),
            ("ridge clip", 1, &[]),
            ("trestle legs", 1, &[]),
        ] {
            for list in [ListOf::counted(), ListOf::shipped()] {
                let list = lines(list).line(&format!("part - {name}"), pieces, &plain);
                assert_eq!(doubted(list.list()), expected, "{name}");
            }
        }
    }

    // Common practice, no source.
    #[test]
    fn hardware_of_no_sure_size() {
        let case = |words: &str, pieces: Option<u64>, doubts: &[Doubt], expected: &[usize]| {
            let list = lines(ListOf::counted()).line(words, pieces, &plain);
            let list = list.edit(|list| {
                let reading = list.readings.last_mut().expect("just pushed");
                reading.doubts.extend_from_slice(doubts);
            });
            assert_eq!(doubted(list.list()), expected, "{words}");
        };
        let rusty = [Doubt::Remark("rusty".into())];
        case("nut", Some(14), &[], &[4, 5]);
        case("nut 14", None, &[], &[4, 5]);
        case("nut 1/2", None, &rusty, &[4]);
        case("nut 1/2", None, &[], &[]);
        case("bolt 1/2 4", Some(4), &rusty, &[]);
        case("washer 5/8", None, &[], &[]);
    }

    // Common practice, no source.
    #[test]
    fn titles_that_say_something_of_lines() {
        let case = |text: &str, inner: bool, expected: &[usize]| {
            let title = Title {
                row: 9,
                text: text.into(),
                inner,
            };
            let list = lines(ListOf::shipped());
            let list = list.edit(|list| list.sheets[0].titles.push(title.clone()));
            assert_eq!(doubted(list.list()), expected, "{text}");
        };
        let all = &[0, 1, 2, 3, 4, 5];
        case("second rail follows", true, &[2]);
        case("bench legs supplied cut", true, &[1]);
        case("rest follows", true, all);
        case("part delivery", true, all);
        case("Bolts and nuts", true, &[]);
        case("legs too short", false, &[0, 1]);
        case("sorry, 3 rails", false, &[2]);
        for text in [
            "Rails, counted by Mia",
            "Rails for shelter 7",
            "Bolts and nuts",
            "Rails ok",
            "Legs bench count",
            "Trestle leg kit 4",
        ] {
            case(text, false, &[]);
        }
    }
}
