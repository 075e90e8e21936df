//! Tables: with known keys, and with keys of the builder's own.

use std::cell::RefCell;

use dryfit_measure::Pointer;
use serde::de::value::StrDeserializer;
use serde::de::{DeserializeSeed, Deserializer, IntoDeserializer, MapAccess, Visitor};

use super::log::{Log, key_place};
use super::reader::Reader;
use super::refusal::Refusal;
use super::words::{listed, split_remedy};
use crate::dom::{Entry, shortened};
use crate::near::nearest;

/// The known keys of a table.
pub(super) struct Fields<'de> {
    pub rest: std::vec::IntoIter<(&'static str, Reader<'de>)>,
    pub value: Option<Reader<'de>>,
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
pub(super) struct Members<'de> {
    pub table: Reader<'de>,
    pub entries: std::slice::Iter<'de, Entry>,
    pub value: Option<&'de Entry>,
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

/// A key of the builder's own, or one of a closed set.
pub(super) struct Name<'de> {
    entry: &'de Entry,
    at: Pointer,
    log: &'de RefCell<Log>,
}

impl Name<'_> {
    pub(super) fn fault(&self, what: String, remedy: Option<String>) -> Refusal {
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
