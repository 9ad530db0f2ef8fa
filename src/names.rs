//! Closed sets of trade words: an enum whose variants each have one printed name.

/// Declares an enum with a printed name per variant. `as_str`, `ALL`, `NAMES`, `Display`, `FromStr`
/// (the exact name) and serde by that name all come from the one table.
macro_rules! names {
    ($(#[$meta:meta])* $vis:vis enum $name:ident { $($(#[$vmeta:meta])* $variant:ident = $text:literal,)+ }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        $vis enum $name { $($(#[$vmeta])* $variant,)+ }

        impl $name {
            /// Every value, in the order of the table.
            pub const ALL: &'static [$name] = &[$($name::$variant,)+];

            /// Every printed name, in the order of the table.
            pub const NAMES: &'static [&'static str] = &[$($text,)+];

            /// The printed name.
            pub const fn as_str(self) -> &'static str {
                match self { $($name::$variant => $text,)+ }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.as_str())
            }
        }

        impl std::str::FromStr for $name {
            type Err = ();
            fn from_str(text: &str) -> std::result::Result<Self, ()> {
                Self::ALL.iter().copied().find(|v| v.as_str() == text).ok_or(())
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, s: S) -> std::result::Result<S::Ok, S::Error> {
                s.serialize_str(self.as_str())
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
                let text = <std::borrow::Cow<'de, str> as serde::Deserialize>::deserialize(d)?;
                text.parse().map_err(|()| serde::de::Error::unknown_variant(&text, Self::NAMES))
            }
        }
    };
}
pub(crate) use names;
