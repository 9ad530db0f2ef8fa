//! A run read in one way: its tokens anew, and what is doubted of them.

use super::{Mend, Parse, Run};
use crate::{
    doubt::Doubt,
    hardware::{Diameter, Ratio},
    notation::{
        callout::Role,
        number::{Prefix, Shape, is_dash},
        reader::Reader,
        token::{Tok, Token},
    },
};

impl Reader<'_> {
    /// The tokens with a run read in one way, and the doubts that it gives.
    pub(in crate::notation) fn apply(&mut self, run: &Run, parse: &Parse) {
        if let Some(count) = parse.lone_count(run) {
            self.tokens[run.tokens.start].tok = Tok::Count(count);
            return;
        }
        let old = self.tokens[run.tokens.clone()].to_vec();
        // Marks between the numerals of a run go with it.
        let figures: Vec<usize> = (0..old.len())
            .filter(|&i| !matches!(old[i].tok, Tok::Dash | Tok::Colon))
            .collect();
        let mut new: Vec<Token> = Vec::with_capacity(old.len());
        if let [only] = figures[..] {
            new.extend(split(&old[only], self.text, parse));
        } else {
            let mut at = 0;
            for &i in &figures[..parse.dropped] {
                new.push(Token {
                    tok: Tok::Mark,
                    role: Some(Role::Passed),
                    ..old[i]
                });
                at += 1;
            }
            if let Some((n, len)) = parse.count {
                let last = figures[at + len - 1];
                new.push(Token {
                    tok: Tok::Count(n),
                    end: old[last].end,
                    ..old[figures[at]]
                });
                at += len;
            }
            let rest = &figures[at..];
            let threads = usize::from(parse.size.thread.is_some());
            match (parse.size.value, rest) {
                (Some((value, shape)), [first, ..]) => {
                    let last = rest[parse.size.len - threads - 1];
                    new.push(Token {
                        tok: Tok::Num {
                            value,
                            shape,
                            prefix: Prefix::None,
                        },
                        end: old[last].end,
                        ..old[*first]
                    });
                }
                _ => new.extend(rest[..rest.len() - threads].iter().map(|&i| old[i])),
            }
            if let (true, [count, size]) = (parse.with_unit, new.as_mut_slice()) {
                let written = &self.text[size.start..size.end];
                let unit = written.find(' ').unwrap_or_default();
                count.end = size.start + unit;
                size.start = count.end + 1;
            }
            if let (Some(_), Some(&last)) = (parse.size.thread, rest.last()) {
                new.push(Token {
                    tok: Tok::Dash,
                    end: old[last].start,
                    start: old[last].start,
                    spaced: false,
                    role: None,
                });
                new.push(Token {
                    spaced: false,
                    ..figure(old[last])
                });
            }
        }
        // `12 2 3/4 washers`: as clear as that is no split.
        if let Some((value, Shape::Mixed)) = parse.size.value
            && value > Ratio::new(3, 2)
            && figures.len() > 1
            && self.is_short(run.tokens.end)
            && (parse.count.is_some() || self.counts_of(run.tokens.start))
        {
            let written = &self.text[old[0].start..old[old.len() - 1].end];
            let size = Diameter::Inch(value);
            let doubt = format!("\"{written}\" read as a size of {size}: a figure may be a count");
            self.notes
                .push((old[0].start, Doubt::HowMany(doubt.into())));
        }
        // Where nothing else makes a size of it, what was lost is sure.
        let sure = run.parses.len() == 1
            && parse.size.len == 2
            && matches!(parse.mended[..], [Mend::Slash | Mend::Dash]);
        for mend in parse.mended.iter().filter(|_| !sure) {
            let written = &self.text[old[0].start..old[old.len() - 1].end];
            let read = parse.read(&new, self.text);
            self.notes.push((old[0].start, mend.doubt(written, &read)));
        }
        self.tokens.splice(run.tokens.clone(), new);
    }
}

/// A count word as a figure.
fn figure(token: Token) -> Token {
    let tok = match token.tok {
        Tok::Word(row) => match row.count() {
            Some(n) => Tok::Num {
                value: Ratio::from_integer(i64::try_from(n).unwrap_or(i64::MAX)),
                shape: Shape::Whole,
                prefix: Prefix::None,
            },
            None => token.tok,
        },
        tok => tok,
    };
    Token { tok, ..token }
}

/// `243/8` as a count and a fraction: two tokens of one.
fn split(token: &Token, text: &str, parse: &Parse) -> Vec<Token> {
    let (Some((n, _)), Some((value, shape))) = (parse.count, parse.size.value) else {
        return vec![*token];
    };
    let written = &text[token.start..token.end];
    // In words a ten stands apart from its unit: `twenty one and a half`.
    let words = 1 + usize::from(n > 20 && n % 10 > 0 && !written.contains('-'));
    let digits = match written.starts_with(|c: char| c.is_ascii_alphabetic()) {
        true => written
            .match_indices(' ')
            .nth(words - 1)
            .map_or(0, |(at, _)| at),
        false => n.to_string().len().min(written.len()),
    };
    let at = token.start + digits;
    let gap = text[at..token.end]
        .chars()
        .next()
        .filter(|c| is_dash(*c) || *c == ' ')
        .map_or(0, char::len_utf8);
    vec![
        Token {
            tok: Tok::Count(n),
            end: at,
            ..*token
        },
        Token {
            tok: Tok::Num {
                value,
                shape,
                prefix: Prefix::None,
            },
            start: at + gap,
            spaced: true,
            ..*token
        },
    ]
}

impl Mend {
    fn doubt(self, written: &str, read: &str) -> Doubt {
        let why = match self {
            Mend::Slash => "a slash is missing",
            Mend::Dash => "a dash is missing",
            Mend::SaidTwice => "a number stands there twice",
            Mend::LineNumber => "the first is taken for a line's number",
            Mend::Tight => "a space is missing",
        };
        Doubt::HowMany(format!("\"{written}\" read as {read}: {why}").into())
    }
}

impl Parse {
    /// The run as it is read: `4 of 3/8`, `1/4-20`.
    fn read(&self, tokens: &[Token], text: &str) -> String {
        let mut size = String::new();
        for token in tokens {
            match token.tok {
                Tok::Num {
                    value,
                    shape,
                    prefix,
                } => {
                    let shown = match prefix {
                        Prefix::None if shape != Shape::Whole => Diameter::Inch(value).to_string(),
                        _ => text[token.start..token.end].to_owned(),
                    };
                    size += &shown;
                }
                Tok::Dash if self.size.thread.is_some() => size.push('-'),
                _ => {}
            }
        }
        match self.count {
            Some((n, _)) if size.is_empty() => n.to_string(),
            Some((n, _)) => format!("{n} of {size}"),
            None => size,
        }
    }
}
