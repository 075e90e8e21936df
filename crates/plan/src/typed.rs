//! From values to types, finding every fault.
//!
//! Serde stops at the first value that does not fit. So the values are read again and again: each round, what
//! was found wrong or missing is noted and replaced by a *stand-in*, some value of the type that is wanted there,
//! until a round comes through. The types themselves are the only description of what is allowed: a stand-in
//! learns what would do from the message of the type that refused it, which also gives the remedy its example.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::ops::{Range, RangeInclusive};

use dryfit_measure::Pointer;
use serde::de::value::StrDeserializer;
use serde::de::{
    self, DeserializeOwned, DeserializeSeed, Deserializer, EnumAccess, Expected, IntoDeserializer, MapAccess,
    SeqAccess, Unexpected, VariantAccess, Visitor,
};

use crate::dom::{Entry, Node, Value, shortened};
use crate::near::nearest;

/// Reads a `T` from `root`, or finds what is wrong with it, by place.
pub(crate) fn read<T: DeserializeOwned>(root: &Node) -> Result<T, Vec<Found>> {
    let log = RefCell::new(Log::default());
    loop {
        let before = log.borrow().progress();
        let read = T::deserialize(Reader::root(root, &log));
        let (clean, stuck) = (log.borrow().faults.is_empty(), log.borrow().progress() == before);
        match read {
            Ok(value) if clean => return Ok(value),
            Err(_) if !stuck && log.borrow().faults.len() < MOST => {}
            _ => break,
        }
    }
    Err(log.into_inner().finish())
}

/// The most faults that are looked for in one text.
pub(crate) const MOST: usize = 200;

/// One thing that is wrong.
#[derive(Debug)]
pub(crate) struct Found {
    pub at: Pointer,
    pub span: Option<Range<usize>>,
    pub what: String,
    pub remedy: Option<String>,
    /// Whether it is the absence of a key.
    pub is_missing: bool,
    /// How many were found before it.
    pub order: usize,
}

/// What was found so far, and what stands in for it.
#[derive(Default)]
struct Log {
    faults: BTreeMap<Pointer, (Found, Remedy)>,
    /// Members of tables that were read without a fault: once there is a fault, they need not be read again.
    sound: BTreeSet<Pointer>,
    /// Places that are not read but stood in for, with a text that will do once it is known.
    stand_ins: BTreeMap<Pointer, Option<String>>,
    /// How a stand-in is written.
    written: BTreeMap<Pointer, String>,
    /// The words that would do as well as the one that stands in.
    others: BTreeMap<Pointer, &'static [&'static str]>,
}

/// A remedy as far as it is known when its fault is found.
enum Remedy {
    Said(Option<String>),
    /// Write the value that stands in at this place, under this key.
    Add(Pointer, String),
    /// Write this text, with the value that stands in at this place in the middle.
    Around(Pointer, String, String),
}

impl Log {
    fn progress(&self) -> usize {
        self.faults.len() + self.stand_ins.len() + self.stand_ins.values().flatten().count()
    }

    /// Notes a fault of a value, unless it has one already.
    fn note(&mut self, at: &Pointer, span: Option<&Range<usize>>, what: String, remedy: Remedy) {
        self.note_as(at.clone(), at, span, what, remedy);
    }

    /// Notes a fault of a key itself, apart from those of its value.
    fn note_key(&mut self, at: &Pointer, span: Option<&Range<usize>>, what: String, remedy: Option<String>) {
        self.note_as(key_place(at), at, span, what, Remedy::Said(remedy));
    }

    fn note_as(
        &mut self,
        kept: Pointer,
        at: &Pointer,
        span: Option<&Range<usize>>,
        what: String,
        remedy: Remedy,
    ) {
        let order = self.faults.len();
        let is_missing = matches!(remedy, Remedy::Add(..));
        let found = Found { at: at.clone(), span: span.cloned(), what, remedy: None, is_missing, order };
        self.faults.entry(kept).or_insert((found, remedy));
    }

    fn stand_in(&mut self, at: &Pointer) {
        self.stand_ins.entry(at.clone()).or_insert(None);
    }

    fn is_stood_in(&self, at: &Pointer) -> bool {
        self.stand_ins.contains_key(at)
    }

    fn finish(self) -> Vec<Found> {
        let Log { faults, written, others, .. } = self;
        let example = |at: &Pointer| written.get(at).map_or("..", String::as_str);
        let resolved = faults.into_values().map(|(found, remedy)| {
            let remedy = match remedy {
                Remedy::Said(said) => said,
                Remedy::Add(at, key) => {
                    let or = others.get(&at).map(|words| format!(" (or {})", listed(words, "or")));
                    Some(format!("add `{key} = {}`{}", example(&at), or.unwrap_or_default()))
                }
                Remedy::Around(at, before, after) => Some(format!("write `{before}{}{after}`", example(&at))),
            };
            Found { remedy, ..found }
        });
        let mut all: Vec<Found> = resolved.collect();
        all.sort_by_key(|found| found.order);
        all
    }
}

/// Why a value was refused.
#[derive(Debug)]
enum Refusal {
    /// Not yet noted: what was expected and found, perhaps with `; write ..`.
    Said(String),
    /// A table lacks this key.
    Lacks(&'static str),
    /// Noted, with its place.
    Noted,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refusal::Said(what) => f.write_str(what),
            Refusal::Lacks(key) => write!(f, "missing key: `{key}`"),
            Refusal::Noted => f.write_str("noted"),
        }
    }
}

impl std::error::Error for Refusal {}

impl de::Error for Refusal {
    fn custom<T: fmt::Display>(what: T) -> Refusal {
        Refusal::Said(what.to_string())
    }

    fn invalid_type(found: Unexpected<'_>, expected: &dyn Expected) -> Refusal {
        let found = match found {
            Unexpected::Bool(truth) => format!("`{truth}`"),
            Unexpected::Unsigned(number) => format!("a number: `{number}`"),
            Unexpected::Signed(number) => format!("a number: `{number}`"),
            Unexpected::Float(number) => format!("a number: `{number}`"),
            Unexpected::Str(text) => format!("text: `{}`", shortened(text)),
            Unexpected::Seq => "a list".to_owned(),
            Unexpected::Map => "a table".to_owned(),
            _ => "nothing".to_owned(),
        };
        Refusal::Said(format!("expected {expected}, found {found}"))
    }

    fn invalid_value(found: Unexpected<'_>, expected: &dyn Expected) -> Refusal {
        Refusal::invalid_type(found, expected)
    }

    fn missing_field(key: &'static str) -> Refusal {
        Refusal::Lacks(key)
    }
}

/// A value, or a stand-in for one.
#[derive(Clone, Copy)]
enum Source<'de> {
    Stated(&'de Node),
    StandIn,
}

/// Reads one value.
#[derive(Clone)]
struct Reader<'de> {
    source: Source<'de>,
    at: Pointer,
    /// The key that names it.
    key: Option<&'de Range<usize>>,
    log: &'de RefCell<Log>,
}

impl<'de> Reader<'de> {
    fn root(node: &'de Node, log: &'de RefCell<Log>) -> Reader<'de> {
        Reader { source: Source::Stated(node), at: Pointer::root(), key: None, log }
    }

    /// The value below this one, or what stands in for it.
    fn below(&self, segment: &str, node: Option<&'de Node>, key: Option<&'de Range<usize>>) -> Reader<'de> {
        let at = self.at.child(segment);
        let source = match node {
            Some(node) if !self.log.borrow().is_stood_in(&at) => Source::Stated(node),
            _ => Source::StandIn,
        };
        Reader { source, at, key: key.or(self.key), log: self.log }
    }

    /// Reads the value, and notes why if it is refused.
    fn read<S: DeserializeSeed<'de>>(self, seed: S) -> Result<S::Value, Refusal> {
        let here = self.clone();
        seed.deserialize(self).map_err(|refusal| match refusal {
            Refusal::Said(what) => here.refuse(&what),
            other => other,
        })
    }

    fn span(&self) -> Option<&'de Range<usize>> {
        match self.source {
            Source::Stated(node) => node.span.as_ref(),
            Source::StandIn => None,
        }
    }

    /// Notes the fault that a type reported about this value.
    fn refuse(&self, said: &str) -> Refusal {
        let (what, remedy) = split_remedy(said);
        self.fault(what, Remedy::Said(remedy))
    }

    fn fault(&self, what: impl Into<String>, remedy: Remedy) -> Refusal {
        if let Source::Stated(_) = self.source {
            let mut log = self.log.borrow_mut();
            log.note(&self.at, self.span(), what.into(), remedy);
            log.stand_in(&self.at);
        }
        Refusal::Noted
    }

    fn wrong_kind(&self, node: &Node, expected: &str) -> Refusal {
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
    fn stands_as(&self, written: impl Into<String>) {
        self.log.borrow_mut().written.insert(self.at.clone(), written.into());
    }

    /// What stands in below here, as one table.
    fn stands_as_table<'k>(&self, keys: impl IntoIterator<Item = &'k str>) {
        let written = {
            let log = self.log.borrow();
            let shown = |key| log.written.get(&self.at.child(key)).map(|value| format!("{key} = {value}"));
            let all: Vec<String> = keys.into_iter().filter_map(shown).collect();
            if all.is_empty() { "{}".to_owned() } else { format!("{{ {} }}", all.join(", ")) }
        };
        self.stands_as(written);
    }

    /// Reads a table whose keys are known.
    fn fields<V: Visitor<'de>>(
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
    fn word(
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

    fn whole_number<V: Visitor<'de>>(
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

const TEXT: &str = "text in quotes";
const TABLE: &str = "a table";
const LIST: &str = "a list";
const TRUTH: &str = "`true` or `false`";
const WHOLE: &str = "a whole number";

/// `what; write "x"` in its two halves.
fn split_remedy(said: &str) -> (String, Option<String>) {
    match said.rsplit_once("; write ") {
        Some((what, remedy)) => (what.to_owned(), Some(format!("write {remedy}"))),
        None => (said.to_owned(), None),
    }
}

/// The text in the first quotes of a remedy: `write "24 in" or "24 mm"`.
fn example(said: &str) -> Option<&str> {
    let (_, rest) = said.rsplit_once("; write \"")?;
    rest.split('"').next()
}

/// `` `a`, `b` and `c` ``
fn listed(words: &[&str], last: &str) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    match quoted.as_slice() {
        [rest @ .., end] if !rest.is_empty() => format!("{} {last} {end}", rest.join(", ")),
        all => all.concat(),
    }
}

macro_rules! whole_numbers {
    ($($method:ident $type:ty),+) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
            self.whole_number(i128::from(<$type>::MIN)..=i128::from(<$type>::MAX), visitor)
        }
    )+};
}

impl<'de> Deserializer<'de> for Reader<'de> {
    type Error = Refusal;

    whole_numbers!(
        deserialize_u8 u8, deserialize_u16 u16, deserialize_u32 u32, deserialize_u64 u64,
        deserialize_i8 i8, deserialize_i16 i16, deserialize_i32 i32, deserialize_i64 i64
    );

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        let Source::Stated(node) = self.source else { return self.deserialize_str(visitor) };
        match &node.value {
            Value::Null => visitor.visit_unit(),
            Value::Text(text) => visitor.visit_str(text),
            Value::Integer(number) => match (i64::try_from(*number), u64::try_from(*number)) {
                (Ok(number), _) => visitor.visit_i64(number),
                (_, Ok(number)) => visitor.visit_u64(number),
                _ => visitor.visit_f64(*number as f64),
            },
            Value::Float(number) => visitor.visit_f64(*number),
            Value::Bool(truth) => visitor.visit_bool(*truth),
            Value::Date(_) => Err(self.wrong_kind(node, &(&visitor as &dyn Expected).to_string())),
            Value::List(_) => self.deserialize_seq(visitor),
            Value::Table(_) => self.deserialize_map(visitor),
        }
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.source {
            Source::Stated(Node { value: Value::Text(text), .. }) => visitor.visit_str(text),
            Source::Stated(node) => {
                let expected = (&visitor as &dyn Expected).to_string();
                // what serde calls the plain text type
                let expected = if expected == "a string" { TEXT } else { expected.as_str() };
                let found = format!("expected {expected}, found {}", node.described());
                let Some(text) = node.written() else {
                    return Err(self.fault(found, Remedy::Said(None)));
                };
                // what the type itself says of it knows best what to write
                visitor.visit_str::<Refusal>(&text)?;
                Err(self.fault(found, Remedy::Said(Some(format!("write \"{text}\"")))))
            }
            Source::StandIn => {
                let known = self.log.borrow().stand_ins.get(&self.at).cloned().flatten();
                let text = known.as_deref().unwrap_or("..");
                visitor.visit_str(text).inspect(|_| self.stands_as(format!("\"{text}\""))).map_err(
                    |refusal: Refusal| {
                        // the next round tries the example of the type's own message
                        let said = refusal.to_string();
                        if let (None, Some(example)) = (&known, example(&said)) {
                            let learnt = Some(example.to_owned());
                            self.log.borrow_mut().stand_ins.insert(self.at.clone(), learnt);
                        }
                        Refusal::Noted
                    },
                )
            }
        }
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.source {
            Source::Stated(Node { value: Value::Bool(truth), .. }) => visitor.visit_bool(*truth),
            Source::Stated(node) => Err(self.wrong_kind(node, TRUTH)),
            Source::StandIn => {
                self.stands_as("true");
                visitor.visit_bool(true)
            }
        }
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.source {
            Source::Stated(Node { value: Value::Float(number), .. }) => visitor.visit_f64(*number),
            Source::Stated(Node { value: Value::Integer(number), .. }) => visitor.visit_f64(*number as f64),
            Source::Stated(node) => Err(self.wrong_kind(node, "a number")),
            Source::StandIn => {
                self.stands_as("1.0");
                visitor.visit_f64(1.0)
            }
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.source {
            Source::StandIn | Source::Stated(Node { value: Value::Null, .. }) => visitor.visit_none(),
            Source::Stated(_) => visitor.visit_some(self),
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.source {
            Source::Stated(Node { value: Value::List(items), .. }) => {
                visitor.visit_seq(Items { list: self, nodes: items.iter(), index: 0 })
            }
            Source::Stated(node) => Err(self.wrong_kind(node, LIST)),
            Source::StandIn => {
                let list = self.clone();
                let read = visitor.visit_seq(One { list: Some(self) })?;
                let written = list.log.borrow().written.get(&list.at.index(0)).cloned();
                list.stands_as(format!("[{}]", written.unwrap_or_default()));
                Ok(read)
            }
        }
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.source {
            Source::Stated(Node { value: Value::Table(entries), .. }) => {
                visitor.visit_map(Members { table: self, entries: entries.iter(), value: None })
            }
            Source::Stated(node) => Err(self.wrong_kind(node, TABLE)),
            Source::StandIn => {
                self.stands_as("{}");
                visitor.visit_map(Members { table: self, entries: [].iter(), value: None })
            }
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        self.fields(fields, visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        let (variant, content) = match self.source {
            Source::StandIn => {
                if let [_, others @ ..] = variants
                    && !others.is_empty()
                {
                    self.log.borrow_mut().others.insert(self.at.clone(), others);
                }
                (variants.first().copied(), None)
            }
            Source::Stated(Node { value: Value::Text(text), span }) => {
                (Some(self.word(text, span.as_ref(), variants)?), None)
            }
            Source::Stated(Node { value: Value::Table(entries), .. }) => match entries.as_slice() {
                [entry] => (Some(self.word(&entry.key, entry.span.as_ref(), variants)?), Some(entry)),
                entries => {
                    let word = |key: &&str| variants.contains(key);
                    let keys: Vec<&str> = entries.iter().map(|entry| entry.key.as_str()).collect();
                    let found = if keys.is_empty() { "none".to_owned() } else { listed(&keys, "and") };
                    let known: Vec<&str> = keys.iter().copied().filter(word).collect();
                    let remedy = match known.as_slice() {
                        [] => format!("write one of {}", listed(variants, "and")),
                        known => format!("keep {}", listed(known, "or")),
                    };
                    return Err(self.fault(
                        format!("expected a table with exactly one key, found {found}"),
                        Remedy::Said(Some(remedy)),
                    ));
                }
            },
            Source::Stated(node) => {
                let what = format!("expected a word, found {}", node.described());
                let remedy = format!("write {}", listed(variants, "or"));
                return Err(self.fault(what, Remedy::Said(Some(remedy))));
            }
        };
        match variant {
            Some(variant) => visitor.visit_enum(Choice { whole: self, variant, content }),
            None => Err(self.fault("nothing can be stated here", Remedy::Said(None))),
        }
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_str(visitor)
    }

    fn deserialize_identifier<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_str(visitor)
    }

    serde::forward_to_deserialize_any! {
        i128 u128 f32 char bytes byte_buf unit unit_struct tuple tuple_struct ignored_any
    }
}

/// The known keys of a table.
struct Fields<'de> {
    rest: std::vec::IntoIter<(&'static str, Reader<'de>)>,
    value: Option<Reader<'de>>,
}

impl<'de> MapAccess<'de> for Fields<'de> {
    type Error = Refusal;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, Refusal> {
        let Some((field, reader)) = self.rest.next() else { return Ok(None) };
        self.value = Some(reader);
        let name: StrDeserializer<'_, Refusal> = field.into_deserializer();
        seed.deserialize(name).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Refusal> {
        let reader = self.value.take().expect("a key was read before its value");
        reader.read(seed)
    }
}

/// The members of a table with keys of the builder's own.
struct Members<'de> {
    table: Reader<'de>,
    entries: std::slice::Iter<'de, Entry>,
    value: Option<&'de Entry>,
}

impl<'de> MapAccess<'de> for Members<'de> {
    type Error = Refusal;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, Refusal> {
        loop {
            let Some(entry) = self.entries.next() else { return Ok(None) };
            let at = self.table.at.child(&entry.key);
            {
                let log = self.table.log.borrow();
                // a faulty key was noted in an earlier round, and what it names cannot be told
                let key_is_faulty = log.is_stood_in(&key_place(&at));
                if key_is_faulty || (!log.faults.is_empty() && log.sound.contains(&at)) {
                    continue;
                }
            }
            self.value = Some(entry);
            let name = Name { entry, at, log: self.table.log };
            return seed.deserialize(name).map(Some);
        }
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Refusal> {
        let entry = self.value.take().expect("a key was read before its value");
        let member = self.table.below(&entry.key, Some(&entry.node), entry.span.as_ref());
        let (at, log) = (member.at.clone(), member.log);
        let read = member.read(seed)?;
        log.borrow_mut().sound.insert(at);
        Ok(read)
    }
}

/// Where the log keeps what it knows of a key itself, apart from the key's value.
fn key_place(at: &Pointer) -> Pointer {
    at.child("(key)")
}

/// A key of the builder's own, or one of a closed set.
struct Name<'de> {
    entry: &'de Entry,
    at: Pointer,
    log: &'de RefCell<Log>,
}

impl Name<'_> {
    fn fault(&self, what: String, remedy: Option<String>) -> Refusal {
        let mut log = self.log.borrow_mut();
        log.note_key(&self.at, self.entry.span.as_ref(), what, remedy);
        log.stand_in(&key_place(&self.at));
        Refusal::Noted
    }
}

impl<'de> Deserializer<'de> for Name<'de> {
    type Error = Refusal;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        visitor.visit_str(&self.entry.key).map_err(|refusal: Refusal| {
            let (what, remedy) = split_remedy(&refusal.to_string());
            self.fault(what, remedy)
        })
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        if !variants.contains(&self.entry.key.as_str()) {
            let key = &self.entry.key;
            let remedy = match nearest(key, variants.iter().copied()) {
                Some(word) => format!("did you mean `{word}`?"),
                None => format!("known here: {}", listed(variants, "and")),
            };
            return Err(self.fault(format!("unknown key: `{}`", shortened(key)), Some(remedy)));
        }
        let word: StrDeserializer<'_, Refusal> = self.entry.key.as_str().into_deserializer();
        visitor.visit_enum(word)
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit
        unit_struct newtype_struct seq tuple tuple_struct map struct identifier ignored_any
    }
}

/// The items of a list.
struct Items<'de> {
    list: Reader<'de>,
    nodes: std::slice::Iter<'de, Node>,
    index: usize,
}

impl<'de> SeqAccess<'de> for Items<'de> {
    type Error = Refusal;

    fn next_element_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<Option<S::Value>, Refusal> {
        let Some(node) = self.nodes.next() else { return Ok(None) };
        let item = self.list.below(&self.index.to_string(), Some(node), node.span.as_ref());
        self.index += 1;
        item.read(seed).map(Some)
    }
}

/// The one item of a list that stands in.
struct One<'de> {
    list: Option<Reader<'de>>,
}

impl<'de> SeqAccess<'de> for One<'de> {
    type Error = Refusal;

    fn next_element_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<Option<S::Value>, Refusal> {
        let Some(list) = self.list.take() else { return Ok(None) };
        list.below("0", None, None).read(seed).map(Some)
    }
}

/// One of several: a word, or a table whose one key is the word.
struct Choice<'de> {
    whole: Reader<'de>,
    variant: &'static str,
    content: Option<&'de Entry>,
}

impl<'de> Choice<'de> {
    fn stands_in(&self) -> bool {
        matches!(self.whole.source, Source::StandIn)
    }

    /// What is below the word; where it is missing, that is noted, and something stands in.
    fn content(&self) -> Result<Reader<'de>, Refusal> {
        let place = self.whole.at.child(self.variant);
        let bare = self.content.is_none() && !self.stands_in();
        if bare && !self.whole.log.borrow().is_stood_in(&place) {
            let mut log = self.whole.log.borrow_mut();
            let remedy = Remedy::Around(place.clone(), format!("{{ {} = ", self.variant), " }".to_owned());
            let what = format!("`{}` needs a value", self.variant);
            log.note(&self.whole.at, self.whole.span(), what, remedy);
            log.stand_in(&place);
            return Err(Refusal::Noted);
        }
        let (node, key) = match self.content {
            Some(entry) => (Some(&entry.node), entry.span.as_ref()),
            None => (None, None),
        };
        Ok(self.whole.below(self.variant, node, key))
    }

    fn written(&self) {
        if self.stands_in() {
            self.whole.stands_as_table([self.variant]);
        }
    }
}

impl<'de> EnumAccess<'de> for Choice<'de> {
    type Error = Refusal;
    type Variant = Choice<'de>;

    fn variant_seed<S: DeserializeSeed<'de>>(self, seed: S) -> Result<(S::Value, Choice<'de>), Refusal> {
        let word: StrDeserializer<'_, Refusal> = self.variant.into_deserializer();
        Ok((seed.deserialize(word)?, self))
    }
}

impl<'de> VariantAccess<'de> for Choice<'de> {
    type Error = Refusal;

    fn unit_variant(self) -> Result<(), Refusal> {
        if self.stands_in() {
            self.whole.stands_as(format!("\"{}\"", self.variant));
        }
        match self.content {
            None => Ok(()),
            Some(_) => Err(self.whole.fault(
                format!("`{}` takes no value", self.variant),
                Remedy::Said(Some(format!("write \"{}\"", self.variant))),
            )),
        }
    }

    fn newtype_variant_seed<S: DeserializeSeed<'de>>(self, seed: S) -> Result<S::Value, Refusal> {
        let read = self.content()?.read(seed)?;
        self.written();
        Ok(read)
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Refusal> {
        self.content()?.deserialize_seq(visitor)
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        let read = self.content()?.fields(fields, visitor)?;
        self.written();
        Ok(read)
    }
}
