//! How the types that are written as text in a plan are read from it and described in its JSON Schema.

/// Gives a type with `Display` and `FromStr` its serde form (that text) and its JSON Schema.
macro_rules! written_as_text {
    ($type:ty, $name:literal, $about:literal, $pattern:expr, [$($example:literal),+]) => {
        impl serde::Serialize for $type {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }

        impl<'de> serde::Deserialize<'de> for $type {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                struct Text;
                impl serde::de::Visitor<'_> for Text {
                    type Value = $type;
                    fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                        f.write_str($about)
                    }
                    fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<$type, E> {
                        text.parse().map_err(E::custom)
                    }
                }
                deserializer.deserialize_str(Text)
            }
        }

        crate::text::described_as_text!($type, $name, $about, $pattern, [$($example),+]);
    };
}

/// Gives a type that is written as text its JSON Schema.
macro_rules! described_as_text {
    ($type:ty, $name:literal, $about:literal, $pattern:expr, [$($example:literal),+]) => {
        impl schemars::JsonSchema for $type {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                $name.into()
            }
            fn schema_id() -> std::borrow::Cow<'static, str> {
                concat!(module_path!(), "::", $name).into()
            }
            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({
                    "type": "string",
                    "description": $about,
                    "pattern": $pattern,
                    "examples": [$($example),+],
                })
            }
        }
    };
}

pub(crate) use {described_as_text, written_as_text};
