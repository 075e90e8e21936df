//! Faults of the text before it says anything: quotes, brackets, keys stated twice.

use std::ops::Range;

use toml::de::DeTable;

use crate::dom::{Node, shortened};
use crate::fault::{Fault, Spot};
use crate::statement::{Statement, statements};

/// What a text says, and what in it says nothing.
pub(crate) struct Parsed {
    /// All that could be read.
    pub root: Node,
    pub faults: Vec<Fault>,
    /// The keys of the statements that could not be read; `None` for one without a key.
    lost: Vec<Option<String>>,
}

impl Parsed {
    /// Whether a key may be missing only because its statement could not be read.
    pub fn may_have_lost(&self, key: &str) -> bool {
        self.lost.iter().any(|lost| lost.as_deref().is_none_or(|lost| lost == key))
    }
}

/// The most statements that are left out of one text.
const MOST: usize = 100;

/// Reads a text; each statement that cannot be read is a fault, and is left out.
pub(crate) fn parse(text: &str) -> Parsed {
    let mut body = text.to_owned();
    let mut parsed = Parsed { root: Node::empty(), faults: Vec::new(), lost: Vec::new() };
    let all = statements(text);
    let mut left_out = vec![false; all.len()];
    loop {
        let (table, mut errors) = DeTable::parse_recoverable(&body);
        if errors.is_empty() {
            parsed.root = Node::of_toml(&table);
            return parsed;
        }
        errors.sort_by_key(|e| e.span().map_or(usize::MAX, |span| span.start));
        let known = parsed.faults.len();
        for e in &errors {
            let span = e.span().unwrap_or(body.len()..body.len());
            let blamed = blamed(&all, &left_out, span.start);
            let (marked, what, remedy) = match blamed {
                Blamed::Nothing => continue,
                Blamed::Statement(index) => explained(text, &all, index, &span, e.message()),
                Blamed::Line => otherwise(&span, e.message()),
            };
            parsed.faults.push(Fault { spot: Some(Spot::new(text, marked)), at: None, what, remedy });
            match blamed {
                Blamed::Statement(index) => {
                    leave_out(&all, index, &mut left_out, &mut body);
                    parsed.lost.push(all[index].key.clone());
                    if all[index].is_left_open() {
                        // what the parser made of the rest is not to be relied on
                        break;
                    }
                }
                _ => blank(&mut body, &line_at(text, span.start)),
            }
        }
        if parsed.faults.len() == known || parsed.faults.len() >= MOST {
            // nothing is known of the rest
            parsed.lost.push(None);
            return parsed;
        }
    }
}

/// Blanks a statement, and all under it if it is a heading: its keys would be taken for those of the heading
/// before it.
fn leave_out(all: &[Statement], index: usize, left_out: &mut [bool], body: &mut String) {
    let under = all[index + 1..].iter().take_while(|next| all[index].is_heading && !next.is_heading).count();
    for (statement, out) in all.iter().zip(left_out).skip(index).take(under + 1) {
        *out = true;
        blank(body, &statement.span);
    }
}

/// Puts as many blanks as there were bytes, with the line ends where they were.
fn blank(body: &mut String, span: &Range<usize>) {
    let blanks: String = body[span.clone()].bytes().map(|b| if b == b'\n' { '\n' } else { ' ' }).collect();
    body.replace_range(span.clone(), &blanks);
}

/// The line that a byte of a text is on.
fn line_at(text: &str, at: usize) -> Range<usize> {
    let at = text.floor_char_boundary(at);
    let start = text[..at].rfind('\n').map_or(0, |end| end + 1);
    start..text[at..].find('\n').map_or(text.len(), |length| at + length)
}

/// What an error is the fault of.
#[derive(Clone, Copy)]
enum Blamed {
    Statement(usize),
    /// A comment, or what stands between statements.
    Line,
    /// A statement that was left out already.
    Nothing,
}

/// The cause of an error at `at`: a statement before it that was left open, or the one it is in.
fn blamed(all: &[Statement], left_out: &[bool], at: usize) -> Blamed {
    let after = all.partition_point(|statement| statement.span.start <= at);
    let open = (0..after).find(|&index| !left_out[index] && all[index].is_left_open());
    match open.or(after.checked_sub(1)) {
        Some(index) if left_out[index] => Blamed::Nothing,
        Some(index) if at <= all[index].span.end || all[index].is_left_open() => Blamed::Statement(index),
        _ => Blamed::Line,
    }
}

/// The place to mark, what is wrong, and what to write instead.
fn explained(
    text: &str,
    all: &[Statement],
    index: usize,
    span: &Range<usize>,
    said: &str,
) -> (Range<usize>, String, Option<String>) {
    let statement = &all[index];
    let line_end = |at: usize| text[at..].find('\n').map_or(text.len(), |length| at + length);
    let bare = bare_value(text, statement);
    if let (Some(_), Some(bare)) = (statement.quote, &bare) {
        return without_quotes(bare);
    }
    if let Some(at) = statement.quote {
        let long = ["\"\"\"", "'''"].into_iter().find(|quotes| text[at..].starts_with(quotes));
        let quote = long.unwrap_or(&text[at..=at]);
        return (
            at..line_end(at),
            "text without its closing quote".to_owned(),
            Some(format!("close it with `{quote}`")),
        );
    }
    if let Some(at) = statement.open {
        let (open, close) = if text[at..].starts_with('[') { ("[", "]") } else { ("{", "}") };
        return (at..at + 1, format!("`{open}` is not closed"), Some(format!("close it with `{close}`")));
    }
    let found = text.get(span.clone()).unwrap_or_default();
    let line = text[statement.span.start..].lines().next().unwrap_or_default().trim_end();
    let same = |what: &str, remedy: &str| (span.clone(), what.to_owned(), Some(remedy.to_owned()));
    if said.starts_with("duplicate key") {
        let first = first_of(text, all, index, found);
        let where_ = first.map(|at| format!("; the first is on line {}", Spot::new(text, at..at).line));
        let remedy = format!("keep one of the two{}", where_.unwrap_or_default());
        return (span.clone(), format!("stated twice: `{}`", shortened(found)), Some(remedy));
    }
    if said.starts_with("cannot extend value") {
        return same(
            &format!("`{}` has keys below it, and a value already", shortened(found)),
            "state its keys in one table",
        );
    }
    let key = statement.key.clone().unwrap_or_default();
    let rest = line.trim_start_matches(['"', '\'']).get(key.len()..).unwrap_or_default();
    let rest = rest.trim_start_matches(['"', '\'']).trim();
    if !key.is_empty() && (said.starts_with("key with no value") || rest.starts_with(':')) {
        let value = rest.trim_start_matches([' ', ':', '\t']);
        let value = if value.is_empty() { "\"..\"" } else { value };
        let start = statement.span.start;
        let what = format!("a key without a value: `{}`", shortened(line));
        let remedy = format!("write `{key} = {}`", shortened(value));
        return (start..start + line.len(), what, Some(remedy));
    }
    if rest == "=" && !statement.is_heading {
        let start = statement.span.start;
        let what = format!("a key without a value: `{}`", shortened(line));
        return (start..start + line.len(), what, Some(format!("write `{key} = \"..\"`")));
    }
    if statement.is_heading && said.starts_with("unexpected key or value") {
        return same("more on the line than a heading", "write `[units]`, and each key on a line of its own");
    }
    if said.starts_with("extra `=`") {
        return same("one `=` too many", "take it out");
    }
    let goes_on = text[span.end.min(text.len())..].trim_start().starts_with('=');
    if let (true, Some((before, next))) = (goes_on && bare.is_none(), found.trim_end().rsplit_once(' ')) {
        let at = span.start + before.len() + 1;
        let remedy = format!("put `,` between `{}` and `{next}`", shortened(before.trim()));
        return (at..at + next.len(), "a comma is missing before this".to_owned(), Some(remedy));
    }
    if said.starts_with("missing comma") || said.starts_with("extra assignment") {
        return same("a comma is missing before this", "put `,` between the one and the next");
    }
    if said.starts_with("extra comma") {
        return same("one comma too many", "take it out");
    }
    if said.contains("recurs") {
        return same("nested too deeply", "take out brackets, or dots between keys");
    }
    if said.starts_with("missing escaped value") || said.starts_with("too few unicode") {
        return same("`\\` stands for itself only when it is doubled", "write `\\\\`");
    }
    if let Some(bare) = &bare {
        return without_quotes(bare);
    }
    if said.starts_with("string values must be quoted") {
        let written = shortened(found);
        return same(&format!("text without quotes: `{written}`"), &format!("write \"{written}\""));
    }
    if said.starts_with("unexpected key or value") {
        return same("more on the line than one value", "begin each key on a line of its own");
    }
    if said.starts_with("carriage return") {
        return same("a line end of the wrong kind", "take it out, and begin the next line here");
    }
    if said.contains("key") {
        return same("expected a key", "a key has letters, digits, `-` and `_`; write `key = \"..\"`");
    }
    otherwise(span, said)
}

/// What is said where nothing better is known: mostly of characters that no text file has.
fn otherwise(span: &Range<usize>, said: &str) -> (Range<usize>, String, Option<String>) {
    if said.contains("printable") {
        let what = "a character that cannot be printed".to_owned();
        return (span.clone(), what, Some("take it out".to_owned()));
    }
    // what was expected, rather than that something is not valid
    let told = said.split_once(", ").filter(|_| said.starts_with("invalid")).map_or(said, |(_, told)| told);
    (span.clone(), format!("not TOML here: {told}"), None)
}

fn without_quotes((at, value): &(Range<usize>, String)) -> (Range<usize>, String, Option<String>) {
    let written = shortened(value);
    (at.clone(), format!("text without quotes: `{written}`"), Some(format!("write \"{written}\"")))
}

/// The value of a statement where it is neither text in quotes nor within brackets, and its place.
fn bare_value(text: &str, statement: &Statement) -> Option<(Range<usize>, String)> {
    statement.key.as_ref()?;
    let line = text[statement.span.clone()].lines().next()?;
    let (before, after) = line.split_once('=')?;
    let value = after.split('#').next()?.trim();
    let inner = value.strip_suffix(['"', '\'']).unwrap_or(value);
    if value.is_empty() || statement.is_heading || inner.contains(['"', '\'', '[', ']', '{', '}', '=', ',']) {
        return None;
    }
    let start = statement.span.start + before.len() + 1 + (after.len() - after.trim_start().len());
    // after a number it is no quote but the mark of inches
    let inches = value.ends_with('"') && inner.ends_with(|c: char| c.is_ascii_digit());
    let written = if inches { format!("{inner} in") } else { inner.to_owned() };
    Some((start..start + value.len(), written))
}

/// Where that which a statement states again is stated first.
fn first_of(text: &str, all: &[Statement], index: usize, found: &str) -> Option<usize> {
    let again = &all[index];
    let head = |statement: &Statement| {
        let line = text[statement.span.clone()].lines().next().unwrap_or_default();
        line.split('#').next().unwrap_or_default().trim().to_owned()
    };
    if again.is_heading {
        return all[..index].iter().find(|other| head(other) == head(again)).map(|other| other.span.start);
    }
    // within one statement the two are seen at a glance
    if again.key.as_deref() != Some(found.trim_matches(['"', '\''])) {
        return None;
    }
    let section = all[..index].iter().rev().take_while(|other| !other.is_heading);
    section.filter(|other| other.key == again.key).last().map(|other| other.span.start)
}

/// The one fault that stops a JSON parser.
pub(crate) fn json_fault(text: &str, e: &serde_json::Error) -> Fault {
    let said = e.to_string();
    let what = said.rsplit_once(" at line ").map_or(said.as_str(), |(what, _)| what);
    let above = text.split_inclusive('\n').take(e.line().saturating_sub(1));
    let at = above.map(str::len).sum::<usize>() + e.column().saturating_sub(1);
    let what = format!("not JSON here: {}", what.to_lowercase());
    Fault { spot: Some(Spot::new(text, at..at + 1)), at: None, what, remedy: None }
}
