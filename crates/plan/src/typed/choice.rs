//! One of several: words of a closed set, with or without a value.

use serde::de::value::StrDeserializer;
use serde::de::{DeserializeSeed, Deserializer, EnumAccess, IntoDeserializer, VariantAccess, Visitor};

use super::log::Remedy;
use super::reader::{Reader, Source};
use super::refusal::Refusal;
use crate::dom::Entry;

/// One of several: a word, or a table whose one key is the word.
pub(super) struct Choice<'de> {
    pub whole: Reader<'de>,
    pub variant: &'static str,
    pub content: Option<&'de Entry>,
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
