//! The tracked text of the repository, and the little reading of Rust that the rules need.

use std::fs;
use std::path::Path;
use std::process::Command;

/// One text file.
#[derive(Debug)]
pub struct Source {
    /// Path from the root, with forward slashes.
    pub path: String,
    /// The file as it stands.
    pub text: String,
}

/// Every file that is tracked, or would be once added.
#[derive(Debug, Default)]
pub struct Tree {
    /// Every path, files that are not text too, in order.
    pub paths: Vec<String>,
    /// The files that are UTF-8 text, in the same order.
    pub sources: Vec<Source>,
}

impl Tree {
    /// Reads what git tracks, and what it would track if added, under `root`.
    ///
    /// # Errors
    /// When git cannot be asked or a file cannot be read.
    pub fn read(root: &Path) -> Result<Self, String> {
        let listed = Command::new("git")
            .args(["ls-files", "-z", "--cached", "--others", "--exclude-standard"])
            .current_dir(root)
            .output()
            .map_err(|e| format!("`git` could not be started ({e}): install git, then run again"))?;
        if !listed.status.success() {
            let said = String::from_utf8_lossy(&listed.stderr);
            return Err(format!("`git ls-files` failed: {}", said.trim()));
        }
        let listed = String::from_utf8_lossy(&listed.stdout);
        let mut paths: Vec<&str> = listed.split('\0').filter(|path| !path.is_empty()).collect();
        paths.sort_unstable();
        paths.dedup();
        let mut tree = Self::default();
        for path in paths {
            let file = root.join(path);
            if !file.is_file() {
                continue; // deleted, and the deletion not added yet
            }
            let bytes = fs::read(&file).map_err(|e| format!("cannot read `{path}`: {e}"))?;
            tree.paths.push(path.to_owned());
            if let Ok(text) = String::from_utf8(bytes) {
                tree.sources.push(Source { path: path.to_owned(), text });
            }
        }
        Ok(tree)
    }

    /// The text files whose name ends in one of `endings`.
    pub fn ending(&self, endings: &[&str]) -> impl Iterator<Item = &Source> {
        self.sources.iter().filter(move |source| endings.iter().any(|end| source.path.ends_with(end)))
    }

    /// The text file at `path`.
    pub fn get(&self, path: &str) -> Option<&Source> {
        self.sources.iter().find(|source| source.path == path)
    }

    /// A tree of the given paths and texts, for the tests of the rules.
    #[cfg(test)]
    pub fn of(files: &[(&str, &str)]) -> Self {
        let sources = files.iter().map(|(path, text)| Source { path: (*path).into(), text: (*text).into() });
        Self { paths: files.iter().map(|(path, _)| (*path).into()).collect(), sources: sources.collect() }
    }
}

/// The number, counted from one, of the line that holds the byte at `offset`.
pub fn line_of(text: &str, offset: usize) -> usize {
    text[..offset].matches('\n').count() + 1
}

/// The Rust `text` with comments and the insides of strings blanked out, byte for byte, so that what is left
/// is code and every offset and line still counts.
pub fn code_only(text: &str) -> String {
    let bytes = text.as_bytes();
    let mut out = bytes.to_vec();
    let mut at = 0;
    while at < bytes.len() {
        let (start, end) = match &bytes[at..] {
            [b'/', b'/', ..] => (at, find(bytes, at, b"\n")),
            [b'/', b'*', ..] => (at, block_comment_end(bytes, at)),
            [b'"', ..] => (at + 1, string_end(bytes, at + 1)),
            [b'r', b'"' | b'#', ..] if begins_raw_string(bytes, at) => {
                let hashes = bytes[at + 1..].iter().take_while(|&&b| b == b'#').count();
                let open = at + 1 + hashes;
                if bytes.get(open) != Some(&b'"') {
                    at += 1; // a raw identifier
                    continue;
                }
                let close = format!("\"{}", "#".repeat(hashes));
                (open + 1, find(bytes, open + 1, close.as_bytes()))
            }
            [b'\'', b'\\', ..] => (at + 1, find(bytes, at + 3, b"'")),
            [b'\'', rest @ ..] if closes_character(rest) => (at + 1, find(bytes, at + 2, b"'")),
            _ => {
                at += 1;
                continue;
            }
        };
        for byte in &mut out[start..end] {
            if *byte != b'\n' {
                *byte = b' ';
            }
        }
        // past the closing quote, where there is one
        at = if start > at { end + 1 } else { end };
    }
    String::from_utf8_lossy(&out).into_owned()
}

/// Whether the `r` at `at` is a string's prefix (or ends the prefix `br`) and not the end of a word.
fn begins_raw_string(bytes: &[u8], at: usize) -> bool {
    let before = bytes[..at].strip_suffix(b"b").unwrap_or(&bytes[..at]);
    !before.last().is_some_and(|&byte| is_word(byte))
}

/// Whether `rest`, what follows a quote, is one character and a closing quote; a lifetime is not.
fn closes_character(rest: &[u8]) -> bool {
    let length = match rest.first() {
        Some(0xF0..) => 4,
        Some(0xE0..) => 3,
        Some(0xC0..) => 2,
        _ => 1,
    };
    rest.get(length) == Some(&b'\'')
}

fn is_word(byte: u8) -> bool {
    byte.is_ascii_alphanumeric() || byte == b'_'
}

fn find(bytes: &[u8], from: usize, what: &[u8]) -> usize {
    let from = from.min(bytes.len());
    bytes[from..].windows(what.len()).position(|seen| seen == what).map_or(bytes.len(), |found| from + found)
}

fn string_end(bytes: &[u8], mut at: usize) -> usize {
    while at < bytes.len() && bytes[at] != b'"' {
        at += if bytes[at] == b'\\' { 2 } else { 1 };
    }
    at.min(bytes.len())
}

fn block_comment_end(bytes: &[u8], mut at: usize) -> usize {
    let mut depth = 0;
    while at < bytes.len() {
        match &bytes[at..] {
            [b'/', b'*', ..] => (depth, at) = (depth + 1, at + 2),
            [b'*', b'/', ..] => (depth, at) = (depth - 1, at + 2),
            _ => at += 1,
        }
        if depth == 0 {
            break;
        }
    }
    at.min(bytes.len())
}

/// The part of Rust code (see [`code_only`]) that is built without tests: all before the first
/// `#[cfg(test)]` that opens a module with a body, and lines that declare a module for tests alone left out. A file
/// that says so of itself (`#![cfg(test)]`) has no such part.
pub fn without_tests(code: &str) -> String {
    let mut kept = String::new();
    let mut lines = code.lines().peekable();
    while let Some(line) = lines.next() {
        if line.trim() == "#![cfg(test)]" {
            break;
        }
        if line.trim() == "#[cfg(test)]" {
            if lines.peek().is_some_and(|next| next.trim_end().ends_with(';')) {
                lines.next();
                kept.push('\n');
            } else if lines.peek().is_some_and(|next| next.trim_start().starts_with("mod ")) {
                break;
            }
            kept.push('\n');
            continue;
        }
        kept.push_str(line);
        kept.push('\n');
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_and_strings_are_blanked_and_offsets_kept() {
        let text = "use a; // b\nlet s = \"crate::c \\\" // d\"; /* e /* f */ g */ h\nlet r = r#\"i \" j\"#;\n\
            let b = br#\"k \" l\"#; let k = '\\''; let l: &'a str = '\"'; m('{', 'é', 'x')\n";
        let blank = "use a;     \nlet s = \"                \";                   h\nlet r = r#\"     \"#;\n\
            let b = br#\"     \"#; let k = '  '; let l: &'a str = ' '; m(' ', '  ', ' ')\n";
        assert_eq!(code_only(text), blank);
    }

    #[test]
    fn an_open_string_or_comment_ends_with_the_file() {
        for text in ["let s = \"never closed", "/* never closed", "r##\"never\"#", "let c = '\\", "\"\\"] {
            assert_eq!(code_only(text).len(), text.len());
        }
    }

    #[test]
    fn code_for_tests_alone_is_left_out() {
        let code =
            "mod a;\n#[cfg(test)]\nmod fixtures;\nmod b;\n#[cfg(test)]\nmod tests {\n    use crate::c;\n}\n";
        assert_eq!(without_tests(code), "mod a;\n\n\nmod b;\n");
    }
}
