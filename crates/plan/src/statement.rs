//! Where the statements of a TOML text begin and end, even where brackets or quotes are not closed.
//!
//! A parser that meets an open bracket takes the rest of the file for what is inside. A person sees that the
//! next key begins a line of its own; so does this.

use std::ops::Range;

/// A heading, or a key with its value; or some lines that are neither.
#[derive(Debug, PartialEq)]
pub(crate) struct Statement {
    pub span: Range<usize>,
    /// Its first key, if it begins with one.
    pub key: Option<String>,
    pub is_heading: bool,
    /// The innermost bracket that is not closed.
    pub open: Option<usize>,
    /// The quote that is not closed on its line, or at all where it is threefold.
    pub quote: Option<usize>,
}

impl Statement {
    /// Whether a bracket or a quote of it is not closed.
    pub fn is_left_open(&self) -> bool {
        self.open.is_some() || self.quote.is_some()
    }
}

/// The statements of a text, in order; blank lines and comments belong to none.
pub(crate) fn statements(text: &str) -> Vec<Statement> {
    let mut all: Vec<Statement> = Vec::new();
    let mut scan = Scan::default();
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let body = line.trim();
        if scan.is_closed() || scan.is_left_open_before(line) {
            close(&mut all, &mut scan);
            if !body.is_empty() && !body.starts_with('#') {
                let is_heading = body.starts_with('[');
                let key = first_key(body.trim_start_matches('['));
                all.push(Statement { span: at..at, key, is_heading, open: None, quote: None });
            }
        }
        scan.line(line, at);
        at += line.len();
        if let (Some(last), false) = (all.last_mut(), body.is_empty() || body.starts_with('#')) {
            last.span.end = at;
        }
    }
    close(&mut all, &mut scan);
    all
}

fn close(all: &mut [Statement], scan: &mut Scan) {
    let done = std::mem::take(scan);
    if let Some(last) = all.last_mut().filter(|last| last.open.is_none() && last.quote.is_none()) {
        last.open = done.brackets.last().map(|(at, _)| *at);
        last.quote = done.quote.or(done.long.map(|(at, _)| at));
    }
}

/// The key at the start of a line, without quotes.
fn first_key(line: &str) -> Option<String> {
    let line = line.trim_start();
    let key = match line.chars().next()? {
        quote @ ('"' | '\'') => line[1..].split(quote).next()?,
        _ => line.split(|c: char| !(c.is_ascii_alphanumeric() || matches!(c, '-' | '_'))).next()?,
    };
    if key.is_empty() { None } else { Some(key.to_owned()) }
}

/// What is open so far.
#[derive(Default)]
struct Scan {
    brackets: Vec<(usize, char)>,
    /// A threefold quote.
    long: Option<(usize, &'static str)>,
    /// The first quote that its line did not close.
    quote: Option<usize>,
    /// The last character that means anything.
    last: Option<char>,
}

impl Scan {
    fn is_closed(&self) -> bool {
        self.brackets.is_empty() && self.long.is_none()
    }

    /// Whether a line that begins inside a bracket can only be a new statement.
    fn is_left_open_before(&self, line: &str) -> bool {
        let Some((_, bracket)) = self.brackets.last() else { return false };
        if self.long.is_some() {
            return false;
        }
        let trimmed = line.trim_end();
        let heading =
            trimmed.strip_prefix('[').and_then(|rest| rest.split_once(']')).is_some_and(|(name, _)| {
                let name = name.trim_start_matches('[');
                name.starts_with(|c: char| c.is_ascii_alphabetic()) && !name.contains([',', '='])
            });
        let assigns = line
            .starts_with(|c: char| c.is_ascii_alphanumeric() || matches!(c, '"' | '\'' | '_' | '-'))
            && first_key(line).is_some_and(|key| {
                let rest = line.trim_start_matches(['"', '\'']).get(key.len()..).unwrap_or_default();
                rest.trim_start_matches(['"', '\'']).trim_start().starts_with('=')
            });
        let goes_on = *bracket == '{' && matches!(self.last, Some(',' | '{'));
        heading || (assigns && !goes_on)
    }

    fn line(&mut self, line: &str, start: usize) {
        let mut at = 0;
        while let Some(c) = line[at..].chars().next() {
            let rest = &line[at..];
            if let Some((_, quotes)) = self.long {
                if rest.starts_with(quotes) {
                    self.long = None;
                    at += 3;
                } else {
                    let escaped = c == '\\' && quotes.starts_with('"');
                    at += c.len_utf8()
                        + if escaped { rest[1..].chars().next().map_or(0, char::len_utf8) } else { 0 };
                }
                continue;
            }
            match c {
                '#' => return,
                '"' | '\'' => {
                    let quotes = if c == '"' { "\"\"\"" } else { "'''" };
                    self.last = Some(c);
                    if rest.starts_with(quotes) {
                        self.long = Some((start + at, quotes));
                        at += 3;
                    } else if let Some(length) = quoted(rest, c) {
                        at += length;
                    } else {
                        self.quote = self.quote.or(Some(start + at));
                        return;
                    }
                    continue;
                }
                '[' | '{' => self.brackets.push((start + at, c)),
                ']' if self.brackets.last().is_some_and(|(_, open)| *open == '[') => {
                    self.brackets.pop();
                }
                '}' if self.brackets.last().is_some_and(|(_, open)| *open == '{') => {
                    self.brackets.pop();
                }
                _ => {}
            }
            if !c.is_whitespace() {
                self.last = Some(c);
            }
            at += c.len_utf8();
        }
    }
}

/// The bytes of a text in quotes on one line, the quotes included, if it is closed.
fn quoted(rest: &str, quote: char) -> Option<usize> {
    let mut escaped = false;
    for (at, c) in rest.char_indices().skip(1) {
        match c {
            '\n' => return None,
            _ if escaped => escaped = false,
            '\\' if quote == '"' => escaped = true,
            c if c == quote => return Some(at + 1),
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keys(text: &str) -> Vec<(Option<String>, bool, bool)> {
        let all = statements(text).into_iter();
        all.map(|s| (s.key, s.open.is_some(), s.quote.is_some())).collect()
    }

    fn named(key: &str, open: bool, quote: bool) -> (Option<String>, bool, bool) {
        (Some(key.to_owned()), open, quote)
    }

    #[test]
    fn a_statement_ends_where_its_brackets_do() {
        let text = "# c\na = [ # [\n  1,\n]\n\n[t]\nb = { x = \"}\",\ny = 1 }\n\"c d\" = '''\n[\n''' # x\n";
        let expected = [("a", false), ("t", false), ("b", false), ("c d", false)];
        assert_eq!(keys(text), expected.map(|(key, open)| named(key, open, false)));
        let all = statements(text);
        assert_eq!(&text[all[0].span.clone()], "a = [ # [\n  1,\n]\n");
        assert!(all[1].is_heading);
    }

    #[test]
    fn a_key_at_the_start_of_a_line_ends_what_was_left_open() {
        let text = "a = [1, 2\nb = { x = 1\nc = \"x\nd = { y = \"z }\n[t]\ne = 1\n";
        let expected = [
            named("a", true, false),
            named("b", true, false),
            named("c", false, true),
            named("d", true, true),
            named("t", false, false),
            named("e", false, false),
        ];
        assert_eq!(keys(text), expected);
    }

    #[test]
    fn lines_without_a_key_are_statements_too() {
        assert_eq!(
            keys("= 3\n\u{e9} = 4\n]\n"),
            [(None, false, false), (None, false, false), (None, false, false)]
        );
    }
}
