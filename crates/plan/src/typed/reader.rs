//! One value and its place, on the way to its type.

use std::cell::RefCell;
use std::ops::{Range, RangeInclusive};

use dryfit_measure::Pointer;
use serde::de::{DeserializeSeed, Visitor};

use super::log::{Log, Remedy};
use super::refusal::Refusal;
use super::tables::Fields;
use super::words::{LIST, TABLE, TRUTH, WHOLE, listed, split_remedy};
use crate::dom::{Entry, Node, Value, shortened};
use crate::near::nearest;

/// A value, or a stand-in for one.
#[derive(Clone, Copy)]
pub(super) enum Source<'de> {
    Stated(&'de Node),
    StandIn,
}

/// Reads one value.
#[derive(Clone)]
pub(super) struct Reader<'de> {
    pub source: Source<'de>,
    pub at: Pointer,
    /// The key that names it.
    pub key: Option<&'de Range<usize>>,
    pub log: &'de RefCell<Log>,
}

impl<'de> Reader<'de> {
    pub(super) fn root(node: &'de Node, log: &'de RefCell<Log>) -> Reader<'de> {
        Reader { source: Source::Stated(node), at: Pointer::root(), key: None, log }
    }

    /// The value below this one, or what stands in for it.
    pub(super) fn below(
        &self,
        segment: &str,
        node: Option<&'de Node>,
        key: Option<&'de Range<usize>>,
    ) -> Reader<'de> {
        let at = self.at.child(segment);
        let source = match node {
            Some(node) if !self.log.borrow().is_stood_in(&at) => Source::Stated(node),
            _ => Source::StandIn,
        };
        Reader { source, at, key: key.or(self.key), log: self.log }
    }

    /// Reads the value, and notes why if it is refused.
    pub(super) fn read<S: DeserializeSeed<'de>>(self, seed: S) -> Result<S::Value, Refusal> {
        let here = self.clone();
        seed.deserialize(self).map_err(|refusal| match refusal {
            Refusal::Said(what) => here.refuse(&what),
            other => other,
        })
    }

    pub(super) fn span(&self) -> Option<&'de Range<usize>> {
        match self.source {
            Source::Stated(node) => node.span.as_ref(),
            Source::StandIn => None,
        }
    }

    /// Notes the fault that a type reported about this value.
    pub(super) fn refuse(&self, said: &str) -> Refusal {
        let (what, remedy) = split_remedy(said);
        self.fault(what, Remedy::Said(remedy))
    }

    pub(super) fn fault(&self, what: impl Into<String>, remedy: Remedy) -> Refusal {
        if let Source::Stated(_) = self.source {
            let mut log = self.log.borrow_mut();
            log.note(&self.at, self.span(), what.into(), remedy);
            log.stand_in(&self.at);
        }
        Refusal::Noted
    }

    pub(super) fn wrong_kind(&self, node: &Node, expected: &str) -> Refusal {
        let remedy = match (&node.value, expected) {
            (Value::Text(text), TRUTH) if matches!(text.as_str(), "true" | "false") => {
                Some(format!("write {text}, without quotes"))
            }
            (Value::Text(text), _) if expected.starts_with(WHOLE) && text.trim().parse::<u32>().is_ok() => {
                Some(format!("write {}, without quotes", text.trim()))
            }
            (Value::List(items), TABLE) if items.iter().any(Node::is_table) => {
                Some("write one pair of brackets, and a key for each: `[units.b3]`".to_owned())
            }
            (Value::Text(text), LIST) => Some(format!("write [\"{}\"]", shortened(text))),
            _ => None,
        };
        self.fault(format!("expected {expected}, found {}", node.described()), Remedy::Said(remedy))
    }

    /// Tells the log how the stand-in here is written.
    pub(super) fn stands_as(&self, written: impl Into<String>) {
        self.log.borrow_mut().written.insert(self.at.clone(), written.into());
    }

    /// What stands in below here, as one table.
    pub(super) fn stands_as_table<'k>(&self, keys: impl IntoIterator<Item = &'k str>) {
        let written = {
            let log = self.log.borrow();
            let shown = |key| log.written.get(&self.at.child(key)).map(|value| format!("{key} = {value}"));
            let all: Vec<String> = keys.into_iter().filter_map(shown).collect();
            if all.is_empty() { "{}".to_owned() } else { format!("{{ {} }}", all.join(", ")) }
        };
        self.stands_as(written);
    }

    /// Reads a table whose keys are known.
    pub(super) fn fields<V: Visitor<'de>>(
        self,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        let entries: &[Entry] = match self.source {
            Source::StandIn => &[],
            Source::Stated(Node { value: Value::Table(entries), .. }) => entries,
            Source::Stated(node) => return Err(self.wrong_kind(node, TABLE)),
        };
        let mut all: Vec<(&'static str, Reader<'de>)> = Vec::with_capacity(fields.len());
        for entry in entries {
            let known = fields.iter().copied().find(|field| *field == entry.key);
            let field = known.or_else(|| self.unknown_key(entry, fields));
            all.extend(
                field.map(|field| (field, self.below(&entry.key, Some(&entry.node), entry.span.as_ref()))),
            );
        }
        for field in fields {
            let stood_in = matches!(self.source, Source::StandIn)
                || self.log.borrow().is_stood_in(&self.at.child(field));
            if stood_in && !all.iter().any(|(stated, _)| stated == field) {
                all.push((field, self.below(field, None, None)));
            }
        }
        let read = visitor.visit_map(Fields { rest: all.into_iter(), value: None });
        if matches!(self.source, Source::StandIn) && read.is_ok() {
            self.stands_as_table(fields.iter().copied());
        }
        read.map_err(|refusal| match refusal {
            Refusal::Lacks(field) => self.lacks(field),
            other => other,
        })
    }

    /// Notes a key that is none of the fields, and tells which was meant, if it is not stated besides.
    fn unknown_key(&self, entry: &Entry, fields: &'static [&'static str]) -> Option<&'static str> {
        let near = nearest(&entry.key, fields.iter().copied());
        let remedy = match near {
            Some(word) => format!("did you mean `{word}`?"),
            None if fields.is_empty() => "leave it out: nothing is stated here".to_owned(),
            None => format!("known here: {}", listed(fields, "and")),
        };
        let what = format!("unknown key: `{}`", shortened(&entry.key));
        let at = self.at.child(&entry.key);
        self.log.borrow_mut().note_key(&at, entry.span.as_ref(), what, Some(remedy));
        near.filter(|near| self.stated(near).is_none())
    }

    fn stated(&self, key: &str) -> Option<&'de Entry> {
        match self.source {
            Source::Stated(node) => node.get(key),
            Source::StandIn => None,
        }
    }

    /// Notes that a table lacks a field.
    fn lacks(&self, field: &'static str) -> Refusal {
        let at = self.at.child(field);
        let span = self.key.or(self.span().filter(|_| !self.at.as_str().is_empty()));
        let remedy = Remedy::Add(at.clone(), field.to_owned());
        let mut log = self.log.borrow_mut();
        log.note(&at, span, format!("missing key: `{field}`"), remedy);
        log.stand_in(&at);
        Refusal::Noted
    }

    /// The word of a closed set; a mistyped one is noted, and read as the one that was likely meant.
    pub(super) fn word(
        &self,
        text: &str,
        span: Option<&Range<usize>>,
        known: &'static [&'static str],
    ) -> Result<&'static str, Refusal> {
        if let Some(word) = known.iter().find(|word| **word == text) {
            return Ok(word);
        }
        let near = nearest(text, known.iter().copied());
        let remedy = match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("write {}", listed(known, "or")),
        };
        let mut log = self.log.borrow_mut();
        log.note_key(&self.at, span, format!("unknown word: `{}`", shortened(text)), Some(remedy));
        near.ok_or_else(|| {
            log.stand_in(&self.at);
            Refusal::Noted
        })
    }

    pub(super) fn whole_number<V: Visitor<'de>>(
        self,
        allowed: RangeInclusive<i128>,
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        let number = match self.source {
            Source::StandIn => {
                self.stands_as("1");
                1
            }
            Source::Stated(Node { value: Value::Integer(number), .. }) if allowed.contains(number) => *number,
            Source::Stated(node) => {
                let is_large = matches!(node.value, Value::Integer(number) if number > *allowed.end());
                let expected = match (*allowed.start(), *allowed.end()) {
                    (0, most) if most > i128::from(u16::MAX) && !is_large => format!("{WHOLE}, 0 or more"),
                    (least, most) => format!("{WHOLE} from {least} to {most}"),
                };
                return Err(self.wrong_kind(node, &expected));
            }
        };
        match (u64::try_from(number), i64::try_from(number)) {
            (Ok(number), _) => visitor.visit_u64(number),
            (_, Ok(number)) => visitor.visit_i64(number),
            _ => Err(Refusal::Said(format!("expected {WHOLE} that fits, found `{number}`"))),
        }
    }
}
