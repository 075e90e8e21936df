//! Running words of a page: text with the few marks that stand inside a line.

use serde::Serialize;

/// One stretch of a line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Span {
    /// As it is. Fractions are written `22 13/16`; the template sets them.
    Plain(String),
    /// Bold: what must not be missed.
    Strong(String),
    /// The ring with the number of a part, local to the page.
    Balloon(u32),
    /// The black block of a gate.
    Gate(u32),
    /// `p 4–6`: the numbers of the pages with these keys.
    Pages(Vec<String>),
    /// Struck out: a reading that was set aside.
    Struck(String),
}

/// A line of words.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(transparent)]
pub struct Words(Vec<Span>);

impl Words {
    /// No words.
    pub fn new() -> Self {
        Words::default()
    }

    /// These words, bold.
    pub fn bold(text: impl Into<String>) -> Self {
        Words::new().strong(text)
    }

    /// With plain words behind.
    #[must_use]
    pub fn plain(self, text: impl Into<String>) -> Self {
        self.with(Span::Plain(text.into()))
    }

    /// With bold words behind.
    #[must_use]
    pub fn strong(self, text: impl Into<String>) -> Self {
        self.with(Span::Strong(text.into()))
    }

    /// With the numbers of pages behind.
    #[must_use]
    pub fn pages(self, keys: impl IntoIterator<Item = String>) -> Self {
        self.with(Span::Pages(keys.into_iter().collect()))
    }

    /// With one more stretch behind. Empty text is left out.
    #[must_use]
    pub fn with(mut self, span: Span) -> Self {
        let empty = match &span {
            Span::Plain(text) | Span::Strong(text) | Span::Struck(text) => text.is_empty(),
            Span::Pages(keys) => keys.is_empty(),
            Span::Balloon(_) | Span::Gate(_) => false,
        };
        if !empty {
            self.0.push(span);
        }
        self
    }

    /// With all of these behind.
    #[must_use]
    pub fn and(self, more: Words) -> Self {
        more.0.into_iter().fold(self, Words::with)
    }

    /// The words without their marks.
    pub fn text(&self) -> String {
        let plain = |span: &Span| match span {
            Span::Plain(text) | Span::Strong(text) | Span::Struck(text) => text.clone(),
            Span::Balloon(number) => number.to_string(),
            Span::Gate(number) => format!("gate {number}"),
            Span::Pages(_) => String::new(),
        };
        self.0.iter().map(plain).collect()
    }

    /// Whether nothing is said.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The stretches, in order.
    pub fn spans(&self) -> &[Span] {
        &self.0
    }
}

impl From<&str> for Words {
    fn from(text: &str) -> Self {
        Words::new().plain(text)
    }
}

impl From<String> for Words {
    fn from(text: String) -> Self {
        Words::new().plain(text)
    }
}
