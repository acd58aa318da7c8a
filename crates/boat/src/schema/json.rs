//! A JSON value and its writing, which is all that the schema needs of JSON.

/// A value. Numbers are kept as they are to be written.
#[derive(Clone, Debug)]
pub(super) enum Json {
    Bool(bool),
    Number(String),
    Text(String),
    List(Vec<Json>),
    Map(Vec<(String, Json)>),
}

pub(super) fn text(text: impl Into<String>) -> Json {
    Json::Text(text.into())
}

pub(super) fn map(entries: impl IntoIterator<Item = (&'static str, Json)>) -> Json {
    let entries = entries.into_iter();
    Json::Map(
        entries
            .map(|(key, value)| (key.to_owned(), value))
            .collect(),
    )
}

/// A value as typed in TOML: texts, numbers, truths and lists of them; no tables.
pub(super) fn from_toml(typed: &str) -> Option<Json> {
    fn of(value: &toml::Value) -> Option<Json> {
        Some(match value {
            toml::Value::String(string) => text(string.as_str()),
            toml::Value::Integer(number) => Json::Number(number.to_string()),
            toml::Value::Float(number) => Json::Number(number.to_string()),
            toml::Value::Boolean(yes) => Json::Bool(*yes),
            toml::Value::Array(items) => {
                Json::List(items.iter().map(of).collect::<Option<Vec<_>>>()?)
            }
            toml::Value::Datetime(_) | toml::Value::Table(_) => return None,
        })
    }
    let file: toml::Table = toml::from_str(&format!("value = {typed}")).ok()?;
    of(file.get("value")?)
}

impl Json {
    /// Written with two spaces a level.
    pub(super) fn written(&self) -> String {
        let mut out = String::new();
        self.write(0, &mut out);
        out
    }

    fn write(&self, depth: usize, out: &mut String) {
        match self {
            Self::Bool(yes) => out.push_str(if *yes { "true" } else { "false" }),
            Self::Number(number) => out.push_str(number),
            Self::Text(text) => quote(text, out),
            Self::List(items) if items.is_empty() => out.push_str("[]"),
            Self::Map(entries) if entries.is_empty() => out.push_str("{}"),
            Self::List(items) => {
                for (i, item) in items.iter().enumerate() {
                    out.push(if i == 0 { '[' } else { ',' });
                    line(depth + 1, out);
                    item.write(depth + 1, out);
                }
                line(depth, out);
                out.push(']');
            }
            Self::Map(entries) => {
                for (i, (key, value)) in entries.iter().enumerate() {
                    out.push(if i == 0 { '{' } else { ',' });
                    line(depth + 1, out);
                    quote(key, out);
                    out.push_str(": ");
                    value.write(depth + 1, out);
                }
                line(depth, out);
                out.push('}');
            }
        }
    }
}

fn line(depth: usize, out: &mut String) {
    out.push('\n');
    out.extend(std::iter::repeat_n("  ", depth));
}

fn quote(text: &str, out: &mut String) {
    out.push('"');
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            c if c < ' ' => out.push_str(&format!("\\u{:04x}", u32::from(c))),
            c => out.push(c),
        }
    }
    out.push('"');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_json() {
        let value = map([
            (
                "a\"\\\n\u{1}",
                Json::List(vec![Json::Bool(true), Json::List(vec![])]),
            ),
            ("b", from_toml("[\"±\", 1.5, 2]").unwrap()),
        ]);
        let read: serde_json::Value = serde_json::from_str(&value.written()).unwrap();
        assert_eq!(
            read,
            serde_json::json!({ "a\"\\\n\u{1}": [true, []], "b": ["±", 1.5, 2] })
        );
    }
}
