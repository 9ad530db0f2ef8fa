//! Text to tokens: numerals, words, marks, and codes that are none of these.

use super::{
    bytes::{
        DIGIT, INSIDE, LETTER, MARK, alphanumeric, alphanumeric_from, is, letters, run, run_of,
    },
    callout::{Notation, Role},
    code::{designated, is_code, unit_and_x},
    fold::is_space,
    number::{Numeral, Prefix, Shape, digits, is_dash, is_slash, numeral, raised, vulgar},
    sight::{Sight, ends_chunk},
    words::{Row, Sense, Senses, look_up, look_up_bytes},
};
use crate::hardware::{Ratio, is_property};

#[derive(Clone, Copy)]
pub(super) enum Tok {
    Num {
        value: Ratio,
        shape: Shape,
        prefix: Prefix,
    },
    Word(&'static Row),
    /// A word that is not in the table.
    Unknown,
    /// A whole number that is settled to count pieces.
    Count(u64),
    /// Letters, digits and marks that are no size: a maker's number, as a rule.
    Code,
    /// `x`, `×` or `*` between figures.
    Join,
    Dash,
    Slash,
    Comma,
    Semicolon,
    Colon,
    Dot,
    Plus,
    Ampersand,
    /// `"` and its forms: inches.
    Inch,
    /// `'` and its forms: feet.
    Foot,
    Open,
    Close,
    Money,
    /// `@`: a price follows.
    At,
    /// Bullets, footnote marks and the rest: they say nothing.
    Mark,
}

#[derive(Clone, Copy)]
pub(super) struct Token {
    pub tok: Tok,
    pub start: usize,
    pub end: usize,
    /// White space stands before it.
    pub spaced: bool,
    /// What it was taken for.
    pub role: Option<Role>,
}

fn mark(c: char) -> Tok {
    match c {
        ',' => Tok::Comma,
        ';' | '|' => Tok::Semicolon,
        ':' | '=' => Tok::Colon,
        '.' => Tok::Dot,
        '+' => Tok::Plus,
        '&' => Tok::Ampersand,
        '"' | '\u{2033}' | '\u{201d}' | '\u{201c}' | '\u{201f}' => Tok::Inch,
        '\'' | '\u{2032}' | '\u{2019}' | '\u{2018}' => Tok::Foot,
        '×' | '*' | '\u{2715}' | '\u{2a09}' => Tok::Join,
        '(' | '[' | '{' => Tok::Open,
        ')' | ']' | '}' => Tok::Close,
        '$' | '€' | '£' | '¥' => Tok::Money,
        '@' => Tok::At,
        c if is_dash(c) => Tok::Dash,
        c if is_slash(c) => Tok::Slash,
        // Raised figures are footnote marks; other scripts' figures are not read, so they are told.
        '¹' | '²' | '³' | '\u{2070}'..='\u{2079}' => Tok::Mark,
        c if c.is_numeric() || redraws(c) => Tok::Unknown,
        _ => Tok::Mark,
    }
}

/// True for what makes a person see other figures than stand there: overrides of the direction (`42` shows as 24), and
/// marks over a character, such as a stroke through it (Unicode 16, chapters 23.2 and 7.9, from memory).
fn redraws(c: char) -> bool {
    matches!(c, '\u{202d}' | '\u{202e}' | '\u{305}' | '\u{332}'..='\u{338}' | '\u{20d0}'..='\u{20ff}')
}

/// Few texts of a list have more tokens; room for these is quick to get.
const USUAL: usize = 20;

/// Splits a text into tokens.
pub(super) fn tokens(text: &str, notation: Notation) -> Vec<Token> {
    Lexer::new(text, notation).all()
}

/// The tokens of a text of which words are blanked, by those of the whole text. A blank is white
/// space, with a semicolon in front where it ends what stands before it.
pub(super) fn blanked_tokens(
    whole: &[Token],
    text: &str,
    blanked: &str,
    notation: Notation,
) -> Vec<Token> {
    left_by_blanks(whole, text, blanked).unwrap_or_else(|| tokens(blanked, notation))
}

/// `None` where a blank may touch what it leaves, so that this reads otherwise than before.
fn left_by_blanks(whole: &[Token], text: &str, blanked: &str) -> Option<Vec<Token>> {
    let (text, blanked) = (text.as_bytes(), blanked.as_bytes());
    let mut left: Vec<Token> = Vec::with_capacity(whole.len());
    let mut behind_blank = false;
    for token in whole {
        let (was, now) = (
            &text[token.start..token.end],
            &blanked[token.start..token.end],
        );
        let touches = behind_blank && !token.spaced;
        let spaced = token.spaced || (touches && blanked[token.start - 1] == b' ');
        if was == now {
            let ends = matches!(
                token.tok,
                Tok::Comma | Tok::Semicolon | Tok::Colon | Tok::Dot | Tok::Close
            ) && !blanked.get(token.end).is_some_and(u8::is_ascii_digit);
            if touches && !ends {
                return None;
            }
            left.push(Token { spaced, ..*token });
            behind_blank = false;
            continue;
        }
        let stop = now[0] == b';';
        let in_part = !now[usize::from(stop)..].iter().all(|b| *b == b' ');
        let goes_on = !behind_blank
            && left.last().is_some_and(|last| {
                let takes = matches!(last.tok, Tok::Join)
                    || matches!(blanked[last.end - 1], b'0'..=b'9' | b'#');
                !token.spaced || (takes && !stop)
            });
        if in_part || goes_on || matches!(token.tok, Tok::Join) {
            return None;
        }
        if stop {
            let end = token.start + 1;
            left.push(Token {
                tok: Tok::Semicolon,
                end,
                spaced,
                ..*token
            });
        }
        behind_blank = true;
    }
    Some(left)
}

struct Lexer<'a> {
    text: &'a str,
    at: usize,
    spaced: bool,
    /// At the start of a chunk: after white space or a mark that is no part of a word.
    fresh: bool,
    notation: Notation,
    /// Chunks that are told at sight are looked at closely, too, which comes to the same.
    closely: bool,
    tokens: Vec<Token>,
}

impl<'a> Lexer<'a> {
    fn new(text: &'a str, notation: Notation) -> Lexer<'a> {
        Lexer {
            text,
            at: 0,
            spaced: true,
            fresh: true,
            notation,
            closely: false,
            tokens: Vec::with_capacity((text.len() / 2).min(USUAL)),
        }
    }

    fn all(mut self) -> Vec<Token> {
        while self.step().is_some() {}
        self.tokens
    }

    fn push(&mut self, tok: Tok, len: usize) {
        self.tokens.push(Token {
            tok,
            start: self.at,
            end: self.at + len,
            spaced: self.spaced,
            role: None,
        });
        self.at += len;
        self.spaced = false;
        self.fresh = false;
    }

    fn push_numeral(&mut self, numeral: Numeral, prefix: Prefix, before: usize) {
        self.push_num(numeral.value, numeral.shape, prefix, before + numeral.len);
    }

    fn numeral_at(&self, at: usize) -> Option<Numeral> {
        numeral(&self.text[at..], self.notation.decimal_comma)
    }

    fn step(&mut self) -> Option<()> {
        let bytes = &self.text.as_bytes()[self.at..];
        let byte = *bytes.first()?;
        if byte == b' ' {
            self.at += 1;
            self.spaced = true;
            self.fresh = true;
            return Some(());
        }
        if self.fresh
            && !self.closely
            && is(byte, LETTER | DIGIT)
            && (self.plain_chunk(bytes) || self.size_chunk(bytes))
        {
            return Some(());
        }
        if is(byte, MARK) {
            self.single(char::from(byte));
            return Some(());
        }
        let rest = &self.text[self.at..];
        let c = rest.chars().next()?;
        if is_space(c) {
            self.at += c.len_utf8();
            self.spaced = true;
            self.fresh = true;
            return Some(());
        }
        let wordlike = c.is_alphanumeric() && vulgar(c).is_none();
        if self.fresh && wordlike && self.chunk(rest) {
            return Some(());
        }
        self.fresh = false;
        match c {
            '0'..='9' => self.figure(rest),
            // `.75`; but the stop of `No.10` and `Gr.5` belongs to the word.
            // Dots that lead to a count are none either.
            '.' | ','
                if !self.after_letters()
                    && !self.text[..self.at].ends_with('.')
                    && rest[1..].starts_with(|c: char| c.is_ascii_digit()) =>
            {
                match self.numeral_at(self.at) {
                    Some(numeral) => self.push_numeral(numeral, Prefix::None, 0),
                    None => self.single(c),
                }
            }
            '#' => self.number_size(rest),
            'ø' | 'Ø' | '⌀' => self.push(Tok::Mark, c.len_utf8()),
            c if vulgar(c).is_some() || raised(c).is_some() => match self.numeral_at(self.at) {
                Some(numeral) => self.push_numeral(numeral, Prefix::None, 0),
                // `²4` may be any number.
                None if rest[c.len_utf8()..].starts_with(|c: char| c.is_ascii_digit()) => {
                    self.push(Tok::Unknown, c.len_utf8());
                }
                None => self.single(c),
            },
            c if c.is_alphabetic() => self.word(rest),
            c => self.single(c),
        }
        Some(())
    }

    /// A chunk of plain letters or plain figures, as most are: one token. What is said of other chunks
    /// below comes to the same for it.
    fn plain_chunk(&mut self, bytes: &[u8]) -> bool {
        let word = is(bytes[0], LETTER);
        let len = run_of(bytes, if word { LETTER } else { DIGIT });
        // A mark that may stand inside of a chunk ends this one where nothing of it follows; `mmx.` is
        // no one word.
        let mark = matches!(bytes.get(len), Some(b'.' | b'-' | b'\''));
        let at = len + usize::from(mark && !matches!(bytes[len - 1], b'x' | b'X'));
        let ends = match bytes.get(at) {
            None => true,
            Some(b',') => word || at > len,
            Some(b) => b.is_ascii() && !is(*b, LETTER | DIGIT | INSIDE),
        };
        if !ends {
            return false;
        }
        let tok = if word {
            match look_up_bytes(&bytes[..len]) {
                Some(row) if row.spelling == "x" => Tok::Join,
                Some(row) => Tok::Word(row),
                // It may be two words in one.
                None if len >= COMPOUND => return false,
                None => Tok::Unknown,
            }
        } else {
            match digits(&self.text[self.at..]) {
                (2.., _) if bytes[0] == b'0' => Tok::Code,
                (..10, value) => Tok::Num {
                    value: Ratio::from_integer(value),
                    shape: Shape::Whole,
                    prefix: Prefix::None,
                },
                _ => Tok::Code,
            }
        };
        self.push(tok, len);
        true
    }

    /// A chunk that is a size as most are written: `5/16`, `1/2-13`, `3-3/4`, `M12`. What is said of
    /// other chunks below comes to the same for it.
    fn size_chunk(&mut self, bytes: &[u8]) -> bool {
        let Some(size) = Sight::at(bytes, 0).filter(|size| ends_chunk(bytes, size.end())) else {
            return false;
        };
        self.push_num(size.value, size.shape, size.prefix, size.end);
        if let Some(threads) = size.threads {
            self.push(Tok::Dash, 1);
            let len = threads.end - size.end - 1;
            self.push_num(threads.value(), Shape::Whole, Prefix::None, len);
        }
        true
    }

    fn push_num(&mut self, value: Ratio, shape: Shape, prefix: Prefix, len: usize) {
        let tok = Tok::Num {
            value,
            shape,
            prefix,
        };
        self.push(tok, len);
    }

    /// A figure after `x` or before a unit is a size, whatever grade it may spell.
    fn is_sized(&self, figure: &str, rest: &str) -> bool {
        let joined = matches!(self.tokens.last(), Some(Token { tok: Tok::Join, .. }));
        let after = rest[figure.len()..].trim_start();
        // `4.8 x 25`: a screw's size
        let joins = after.strip_prefix(['x', 'X', '\u{d7}', '*']);
        let sized =
            joins.is_some_and(|rest| rest.trim_start().starts_with(|c: char| c.is_ascii_digit()));
        let measured = figure.contains('.') && after.starts_with(['"', 'i', 'I']);
        joined || sized || measured
    }

    fn after_letters(&self) -> bool {
        !self.spaced
            && matches!(
                self.tokens.last(),
                Some(Token {
                    tok: Tok::Word(_) | Tok::Unknown,
                    ..
                })
            )
    }

    /// True right behind a figure for a sign that stands in no size and marks no footnote: it may be what a program made
    /// of a fraction that it could not write (`3½` as `3?` or `3«`).
    fn may_be_fraction(&self, c: char) -> bool {
        const KNOWN: &str = "!%_#<>°ºª®™©†‡•·…¹²³✓✔☑☐✗✘";
        let behind_figure = matches!(
            self.tokens.last(),
            Some(Token { tok: Tok::Num { .. }, end, .. }) if *end == self.at
        );
        // A person who is not sure how many there are asks so, too.
        let joined = self
            .tokens
            .len()
            .checked_sub(2)
            .map(|at| self.tokens[at].tok);
        let of_size = c != '?' || matches!(joined, Some(Tok::Join));
        behind_figure && of_size && !KNOWN.contains(c)
    }

    fn single(&mut self, c: char) {
        let tok = match mark(c) {
            Tok::Mark if self.may_be_fraction(c) => Tok::Unknown,
            tok => tok,
        };
        self.push(tok, c.len_utf8());
        self.fresh = matches!(
            self.tokens.last().map(|token| token.tok),
            Some(Tok::Comma | Tok::Semicolon | Tok::Colon | Tok::Open | Tok::Close | Tok::Plus)
        );
    }

    /// Tries the whole chunk: as a word of the table (`18-8`, `c/w`), then as a code.
    fn chunk(&mut self, rest: &str) -> bool {
        let end = run(rest, LETTER | DIGIT | INSIDE, |c| {
            c.is_alphanumeric() && vulgar(c).is_none() || is_dash(c)
        });
        let mut chunk = &rest[..end];
        // A slash before white space belongs to `w/`; a full stop, dash or prime at the end to no word.
        if !is(rest.as_bytes()[end - 1], LETTER | DIGIT) {
            chunk = chunk.trim_end_matches(|c: char| is_dash(c) || matches!(c, '.' | '\''));
        }
        if let Some(row) = look_up(chunk)
            && row.spelling != "x"
            && !self.is_sized(chunk, rest)
        {
            self.push(Tok::Word(row), chunk.len());
            return true;
        }
        chunk = chunk.trim_end_matches(is_slash);
        if let Some((value, len)) = designated(chunk) {
            self.push_num(value, Shape::Whole, Prefix::None, len);
            return true;
        }
        // `M12 x 45s`: those of that length; `3/8ths`.
        let joined = matches!(self.tokens.last(), Some(Token { tok: Tok::Join, .. }));
        let spoken = ["ths", "nds", "rds", "th"]
            .iter()
            .find_map(|end| chunk.strip_suffix(end));
        let figures = spoken.or(chunk.strip_suffix('s').filter(|_| joined));
        if let Some(figures) = figures
            && let Some(numeral) = self.numeral_at(self.at)
            && numeral.len == figures.len()
            && (spoken.is_none() || numeral.shape != Shape::Whole)
        {
            self.push_num(numeral.value, numeral.shape, Prefix::None, chunk.len());
            return true;
        }
        if is_ordinal(chunk) || is_property(chunk) || is_built(chunk) {
            self.push(Tok::Unknown, chunk.len());
            return true;
        }
        if let Some((number, len)) = measured(chunk) {
            self.push_num(Ratio::from_integer(number), Shape::Whole, Prefix::None, len);
            return true;
        }
        if is_code(chunk) {
            self.push(Tok::Code, chunk.len());
            return true;
        }
        false
    }

    /// A run that starts with a digit.
    fn figure(&mut self, rest: &str) {
        let digits = run_of(rest.as_bytes(), DIGIT);
        let run = alphanumeric_from(rest, digits);
        if run > digits
            && let Some(row) = look_up(&rest[..run])
        {
            return self.push(Tok::Word(row), run);
        }
        match self.numeral_at(self.at) {
            Some(numeral) => {
                // `8.8` behind letters (`bolt8.8`) is a class as well.
                let figure = &rest[..numeral.len];
                let class = (numeral.shape != Shape::Whole)
                    .then(|| look_up(figure))
                    .flatten();
                let class = class.filter(|_| !self.is_sized(figure, rest));
                match class {
                    Some(row) => self.push(Tok::Word(row), numeral.len),
                    None => self.push_numeral(numeral, Prefix::None, 0),
                }
            }
            None => self.push(Tok::Code, digits),
        }
    }

    /// `#10`, `# 10`; a `#` before anything else says nothing.
    fn number_size(&mut self, rest: &str) {
        let gap = 1 + rest[1..].len() - rest[1..].trim_start_matches(is_space).len();
        match self.numeral_at(self.at + gap) {
            Some(numeral) if numeral.shape == Shape::Whole => {
                self.push_numeral(numeral, Prefix::Number, gap);
            }
            _ => self.single('#'),
        }
    }

    /// A run that starts with a letter.
    fn word(&mut self, rest: &str) {
        let run = alphanumeric(rest);
        let letters = letters(rest);
        let bytes = rest.as_bytes();
        let joins = matches!(bytes[0], b'x' | b'X');
        let before_figure = letters == 1
            && rest[1..]
                .starts_with(|c: char| c.is_ascii_digit() || c == '.' || vulgar(c).is_some());
        if joins && before_figure {
            return self.push(Tok::Join, 1);
        }
        if matches!(bytes[0], b'm' | b'M')
            && before_figure
            && let Some(numeral) = self.numeral_at(self.at + 1)
            && matches!(numeral.shape, Shape::Whole | Shape::Decimal(_))
        {
            return self.push_numeral(numeral, Prefix::Metric, 1);
        }
        if run > letters
            && let Some(row) = look_up(&rest[..run])
        {
            // `A2-70` at the end of a designation.
            let class = rest.get(..run + "-70".len()).and_then(look_up);
            let (row, run) = class.map_or((row, run), |class| (class, run + "-70".len()));
            return self.push(Tok::Word(row), run);
        }
        // `8mmx40`: the unit, then the `x`.
        if let Some(unit) = unit_and_x(&rest[..letters])
            && rest[letters..]
                .starts_with(|c: char| c.is_ascii_digit() || c == '.' || vulgar(c).is_some())
            && let Some(row) = look_up(unit)
        {
            return self.push(Tok::Word(row), unit.len());
        }
        match look_up(&rest[..letters]) {
            Some(row) if row.spelling == "x" => self.push(Tok::Join, letters),
            Some(row) => self.push(Tok::Word(row), letters),
            None => match compound(&rest[..letters]) {
                Some((row, len)) => self.push(Tok::Word(row), len),
                None => self.push(Tok::Unknown, letters),
            },
        }
    }
}

/// A number in a word and another word, a dash between them.
fn hyphened(chunk: &str) -> Option<(i64, &str)> {
    let (number, word) = chunk.split_once('-')?;
    let letters = |word: &str| word.len() > 1 && word.bytes().all(|b| b.is_ascii_alphabetic());
    let number = look_up(number).filter(|_| letters(number) && letters(word))?;
    Some((i64::try_from(number.count()?).ok()?, word))
}

/// `four-hole`, `one-way`: how a thing is made, and not how many there are.
fn is_built(chunk: &str) -> bool {
    let plain = |row: &Row| row.kinds.meet(Senses::PLAIN);
    let is_one = |word: &str| {
        ["piece", "part"]
            .iter()
            .any(|one| word.eq_ignore_ascii_case(one))
    };
    hyphened(chunk).is_some_and(|(_, word)| is_one(word) || look_up(word).is_none_or(plain))
}

/// `ten-inch`, `eight-foot`: what a thing measures, and the length of the number.
fn measured(chunk: &str) -> Option<(i64, usize)> {
    let (number, word) = hyphened(chunk)?;
    let of_length =
        |sense: &Sense| matches!(sense, Sense::Unit(_) | Sense::Metric(_) | Sense::Foot);
    let unit = look_up(word)?.senses.iter().any(of_length);
    unit.then(|| (number, chunk.len() - word.len() - 1))
}

/// The least letters of a word that may be two in one.
const COMPOUND: usize = 12;

/// The first word of two that are written as one, the second a noun of hardware (`Sechskantschrauben`), and its
/// length; the whole where it is a word in the plural of German.
fn compound(word: &str) -> Option<(&'static Row, usize)> {
    if word.len() < COMPOUND {
        return None;
    }
    let names = |row: &&Row| row.kinds.meet(Senses::NOUN);
    let singular = word.strip_suffix(['n', 'N']).and_then(look_up);
    if let Some(row) = singular.filter(names) {
        return Some((row, word.len()));
    }
    let cuts = (4..word.len() - 3).filter(|at| word.is_char_boundary(*at));
    cuts.rev().find_map(|at| {
        let (first, second) = word.split_at(at);
        look_up(second).filter(names)?;
        Some((look_up(first)?, at))
    })
}

/// True for an ordinal, a word of a name: `1st`, `22nd`, `11th`.
fn is_ordinal(chunk: &str) -> bool {
    let letters = chunk.trim_start_matches(|c: char| c.is_ascii_digit());
    let figures = &chunk[..chunk.len() - letters.len()];
    let ends = match figures.as_bytes() {
        [] => return false,
        [.., b'1', _] => "th",
        [.., b'1'] => "st",
        [.., b'2'] => "nd",
        [.., b'3'] => "rd",
        _ => "th",
    };
    letters.eq_ignore_ascii_case(ends)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::notation::cases::properties::same_each_time;

    fn shown(tokens: &[Token]) -> Vec<String> {
        let tok = |token: &Token| match token.tok {
            Tok::Num {
                value,
                shape,
                prefix,
            } => format!("{value} {shape:?} {prefix:?}"),
            Tok::Word(row) => row.spelling.to_owned(),
            other => format!("{:?}", std::mem::discriminant(&other)),
        };
        let shown = |token: &Token| {
            let at = token.start..token.end;
            format!("{at:?} {} {}", token.spaced, tok(token))
        };
        tokens.iter().map(shown).collect()
    }

    /// Figures, marks, letters and words side by side or apart.
    fn text() -> impl Strategy<Value = String> {
        let pieces = [
            "1", "3", "5", "10", "13", "16", "18", "64", "128", "007", "1234", "/", "-", "-", ".",
            ",", "\"", "'", "(", ")", "x", "M", "m", "mm", "in", "bolt", "hex", "SS", "½", "–",
            " ", " ", "#", "_", "A", "8", "2", "4",
        ];
        let piece = prop::sample::select(pieces.to_vec());
        prop::collection::vec(piece, 1..10).prop_map(|pieces| pieces.concat())
    }

    /// The same with no white space in it.
    fn word() -> impl Strategy<Value = String> {
        let word = text().prop_map(|text| text.replace(' ', ""));
        word.prop_filter("no word", |word| !word.is_empty())
    }

    proptest! {
        #![proptest_config(same_each_time(20_000))]

        /// What is told at sight is what a close look tells.
        #[test]
        fn a_chunk_told_at_sight_is_that_of_a_close_look(text in text(), decimal_comma: bool) {
            let notation = Notation { decimal_comma, ..Notation::default() };
            let mut lexer = Lexer::new(&text, notation);
            lexer.closely = true;
            prop_assert_eq!(shown(&tokens(&text, notation)), shown(&lexer.all()));
        }

        /// What is left of a text by blanks reads as it does where it is cut anew.
        #[test]
        fn blanks_leave_the_tokens_beside_them(
            words in prop::collection::vec(word(), 1..6),
            blanks in prop::collection::vec(0..6usize, 1..3),
            stop: bool,
        ) {
            let whole = words.join(" ");
            let mut blanked = whole.clone();
            for blank in blanks.into_iter().filter(|&i| i < words.len()) {
                let start = words[..blank].iter().map(|word| word.len() + 1).sum::<usize>();
                let len = words[blank].len();
                let blank = format!("{}{}", if stop { ";" } else { " " }, " ".repeat(len - 1));
                blanked.replace_range(start..start + len, &blank);
            }
            let cut = tokens(&whole, Notation::default());
            let left = left_by_blanks(&cut, &whole, &blanked);
            let anew = tokens(&blanked, Notation::default());
            prop_assert!(left.is_none_or(|left| shown(&left) == shown(&anew)), "{}", blanked);
        }
    }
}
