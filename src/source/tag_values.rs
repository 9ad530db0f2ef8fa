//! What the attributes of a parsed XML tag say.

use std::borrow::Cow;

use quick_xml::{
    XmlVersion,
    events::{BytesStart, attributes::Attribute},
};

use super::broken::{Found, damaged};

/// The largest value of a tag's attributes of this name; 0 where one is no number.
pub fn number(tag: &BytesStart<'_>, name: &str) -> Found<Option<u64>> {
    let mut largest = None;
    for attribute in tag.attributes().with_checks(false) {
        let attribute = attribute.map_err(damaged)?;
        if attribute.key.as_ref() != name {
            continue;
        }
        let value = value(&attribute)?;
        let digits = value.trim().trim_start_matches('+');
        let number = match digits.bytes().all(|b| b.is_ascii_digit()) && !digits.is_empty() {
            // More digits than fit are more than any limit.
            true => digits.parse().unwrap_or(u64::MAX),
            false => 0,
        };
        largest = largest.max(Some(number));
    }
    Ok(largest)
}

/// The value of a tag's attribute, with any prefix before its name.
pub fn text(tag: &BytesStart<'_>, name: &str) -> Found<Option<String>> {
    for attribute in tag.attributes().with_checks(false) {
        let attribute = attribute.map_err(damaged)?;
        if attribute.key.local_name().as_ref() == name {
            return Ok(Some(value(&attribute)?.into_owned()));
        }
    }
    Ok(None)
}

fn value<'a>(attribute: &Attribute<'a>) -> Found<Cow<'a, str>> {
    attribute
        .normalized_value(XmlVersion::Implicit1_0)
        .map_err(damaged)
}
