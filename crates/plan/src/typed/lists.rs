//! Lists.

use serde::de::{DeserializeSeed, SeqAccess};

use super::reader::Reader;
use super::refusal::Refusal;
use crate::dom::Node;

/// The items of a list.
pub(super) struct Items<'de> {
    pub list: Reader<'de>,
    pub nodes: std::slice::Iter<'de, Node>,
    pub index: usize,
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
pub(super) struct One<'de> {
    pub list: Option<Reader<'de>>,
}

impl<'de> SeqAccess<'de> for One<'de> {
    type Error = Refusal;

    fn next_element_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<Option<S::Value>, Refusal> {
        let Some(list) = self.list.take() else { return Ok(None) };
        list.below("0", None, None).read(seed).map(Some)
    }
}
