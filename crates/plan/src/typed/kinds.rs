//! What each type asks of a value: the kinds of serde's data model.

use serde::de::{Deserializer, Expected, Visitor};

use super::choice::Choice;
use super::lists::{Items, One};
use super::log::Remedy;
use super::reader::{Reader, Source};
use super::refusal::Refusal;
use super::tables::Members;
use super::words::{LIST, TABLE, TEXT, TRUTH, example, listed};
use crate::dom::{Node, Value};

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
