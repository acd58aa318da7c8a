//! The JSON Schema of the boat file, for editors: made from the table of keys, so that it can't
//! say anything else than the reading does. It is the looser of the two: what it refuses is
//! refused by [`crate::read`] too, or is remarked on; it can't know which names stand elsewhere.

mod json;
mod pattern;

use json::{Json, map, text};

use crate::keys::{Form, FreeRow, KeyRow, Naming, ROOT, Sign, TableRow};
use crate::words::WordList;

/// The schema (JSON Schema, draft 2020-12), indented, with a newline at its end.
/// Unit: none. Source: the table of keys.
pub fn schema_json() -> String {
    let mut tables = Vec::new();
    gather(&ROOT, &mut tables);
    let mut schema = vec![
        (
            "$schema",
            text("https://json-schema.org/draft/2020-12/schema"),
        ),
        ("title", text("A boat file")),
    ];
    schema.extend(table(&ROOT));
    let others = tables.iter().filter(|row| row.name != ROOT.name);
    schema.push((
        "$defs",
        Json::Map(others.map(|row| (defined(row), map(table(row)))).collect()),
    ));
    let mut out = map(schema).written();
    out.push('\n');
    out
}

/// Every table that can be reached, each once, in the order of the file.
fn gather(row: &'static TableRow, tables: &mut Vec<&'static TableRow>) {
    fn of(form: &Form, tables: &mut Vec<&'static TableRow>) {
        match form {
            Form::Table(row) => gather(row, tables),
            Form::ThingOrRun(thing, run) => {
                gather(thing, tables);
                gather(run, tables);
            }
            Form::List(item) => of(item, tables),
            _ => {}
        }
    }
    if tables.iter().any(|known| std::ptr::eq(*known, row)) {
        return;
    }
    tables.push(row);
    for key in row.keys {
        of(&key.form, tables);
    }
    if let Some(free) = &row.free {
        of(&free.form, tables);
    }
}

fn defined(row: &TableRow) -> String {
    row.name.replace(' ', "-")
}

fn reference(row: &TableRow) -> Json {
    map([("$ref", text(format!("#/$defs/{}", defined(row))))])
}

fn table(row: &TableRow) -> Vec<(&'static str, Json)> {
    let mut schema = vec![("description", text(row.doc)), ("type", text("object"))];
    if !row.keys.is_empty() {
        let keys = row.keys.iter().map(|key| (key.name.to_owned(), value(key)));
        schema.push(("properties", Json::Map(keys.collect())));
    }
    let required: Vec<Json> = row
        .keys
        .iter()
        .filter(|key| key.required)
        .map(|key| text(key.name))
        .collect();
    if !required.is_empty() {
        schema.push(("required", Json::List(required)));
    }
    match &row.free {
        Some(free) => {
            schema.push((
                "propertyNames",
                map([("pattern", text(naming(free.naming)))]),
            ));
            schema.push(("additionalProperties", owners(free)));
        }
        None => schema.push(("additionalProperties", Json::Bool(false))),
    }
    schema
}

fn naming(naming: Naming) -> String {
    match naming {
        Naming::Plain => pattern::whole(pattern::NAME),
        Naming::Dotted => pattern::whole(&format!("{0}(?:\\.{0})*", pattern::NAME)),
        Naming::Spot => pattern::whole(&pattern::spot()),
        Naming::Tape => pattern::whole(&format!("{0}\\s+{0}", pattern::spot())),
        Naming::Instrument => pattern::instruments(),
        Naming::Ware | Naming::Title => "\\S".to_owned(),
        Naming::Hose => pattern::whole(&pattern::hose_name()),
        Naming::Moment => pattern::whole("[0-9]{4}-[0-9]{2}-[0-9]{2}(?: [0-9]{2}:[0-9]{2})?"),
    }
}

/// A key that the owner names.
fn owners(free: &FreeRow) -> Json {
    described(free.doc, None, alternatives(&free.form, true, false))
}

/// A key of the table.
fn value(key: &KeyRow) -> Json {
    let unknown = !key.must_be_said;
    let example = if key.example.contains('{') {
        None
    } else {
        json::from_toml(key.example)
    };
    let schemas = alternatives(&key.form, unknown, key.may_choose);
    described(key.doc, example, schemas)
}

fn described(doc: &str, example: Option<Json>, mut schemas: Vec<Json>) -> Json {
    let mut schema = vec![("description".to_owned(), text(doc))];
    if let Some(example) = example {
        schema.push(("examples".to_owned(), Json::List(vec![example])));
    }
    if schemas.len() == 1
        && let Some(Json::Map(only)) = schemas.pop()
    {
        schema.extend(only);
    } else {
        schema.push(("anyOf".to_owned(), Json::List(schemas)));
    }
    Json::Map(schema)
}

/// What may stand for a form; `unknown` and `choose` where those words may.
fn alternatives(form: &Form, unknown: bool, choose: bool) -> Vec<Json> {
    let mut schemas = match form {
        Form::Table(row) => return vec![reference(row)],
        Form::ThingOrRun(thing, run) => return vec![reference(thing), reference(run)],
        Form::List(item) => {
            let one = alternatives(item, unknown, choose);
            let items = map([("anyOf", Json::List(one.clone()))]);
            let mut schemas = vec![map([("type", text("array")), ("items", items)])];
            schemas.extend(one);
            return schemas;
        }
        form => one(form),
    };
    if form.can_differ() {
        schemas.push(map([
            ("description", text("Two readings that differ.")),
            ("type", text("array")),
            ("items", map([("anyOf", Json::List(schemas.clone()))])),
            ("minItems", Json::Number("2".into())),
            ("maxItems", Json::Number("2".into())),
        ]));
    }
    if unknown {
        schemas.push(word_alone("?", "Looked, can't be known yet."));
    }
    if choose {
        schemas.push(word_alone("choose", "Let the tool choose."));
    }
    schemas
}

fn word_alone(word: &str, doc: &str) -> Json {
    map([("description", text(doc)), ("const", text(word))])
}

/// One value of a form, without the words for nothing.
fn one(form: &Form) -> Vec<Json> {
    let strings = |pattern: String| map([("type", text("string")), ("pattern", text(pattern))]);
    let number = |low: &str, high: Option<f64>, least: &'static str| {
        let mut schema = vec![("type", text("number"))];
        if !low.is_empty() {
            schema.push((least, Json::Number(low.into())));
        }
        if let Some(high) = high {
            schema.push(("maximum", Json::Number(high.to_string())));
        }
        map(schema)
    };
    match form {
        Form::PlainLength => vec![
            number("0", None, "exclusiveMinimum"),
            strings(pattern::plain_length()),
        ],
        Form::Length => vec![
            number("0", None, "exclusiveMinimum"),
            strings(pattern::length()),
        ],
        Form::Height => vec![number("", None, ""), strings(pattern::length())],
        Form::Spread => vec![
            number("0", None, "exclusiveMinimum"),
            strings(pattern::length()),
        ],
        Form::LengthOrZero => vec![number("0", None, "minimum"), strings(pattern::length())],
        Form::Percent => vec![
            number("0", Some(100.0), "minimum"),
            strings(pattern::percent()),
        ],
        Form::Quantity(kind, sign) => vec![strings(pattern::quantity(
            *kind,
            matches!(sign, Sign::Over | Sign::NotUnder),
        ))],
        Form::PowerAtSpeed => vec![strings(pattern::at(
            quantity::Kind::Power,
            quantity::Kind::RotationalSpeed,
        ))],
        Form::CurrentAtVoltage => vec![strings(pattern::at(
            quantity::Kind::Current,
            quantity::Kind::Voltage,
        ))],
        Form::DropAtFlow => vec![strings(pattern::at(
            quantity::Kind::PressureDifference,
            quantity::Kind::VolumeFlow,
        ))],
        Form::FlowAtSpeed => vec![
            strings(pattern::quantity(quantity::Kind::VolumeFlow, true)),
            strings(pattern::at(
                quantity::Kind::VolumeFlow,
                quantity::Kind::RotationalSpeed,
            )),
        ],
        Form::Number(low, high) => vec![
            number(&low.to_string(), Some(*high), "minimum"),
            strings(pattern::plain_number()),
        ],
        Form::Count => vec![
            map([
                ("type", text("integer")),
                ("minimum", Json::Number("1".into())),
                ("maximum", Json::Number("1000000".into())),
            ]),
            strings(pattern::plain_number()),
        ],
        Form::Whole => vec![
            map([
                ("type", text("integer")),
                ("minimum", Json::Number("0".into())),
                ("maximum", Json::Number("1000000".into())),
            ]),
            strings(pattern::plain_number()),
        ],
        Form::Version => vec![map([("const", Json::Number("1".into()))])],
        Form::Bool => vec![map([("type", text("boolean"))])],
        Form::Text => vec![map([
            (
                "type",
                Json::List(vec![text("string"), text("number"), text("boolean")]),
            ),
            ("pattern", text("\\S")),
        ])],
        Form::Words(list) => words(list),
        Form::Point => vec![three(one(&Form::Height))],
        Form::Triple => vec![three(one(&Form::Number(-1e9, 1e9)))],
        Form::Heading => {
            let mut schemas = one(&Form::Triple);
            schemas.push(strings(pattern::heading()));
            schemas
        }
        Form::Spotted => {
            let mut schemas = one(&Form::Point);
            schemas.push(strings(pattern::whole(&pattern::spot())));
            schemas
        }
        Form::File => vec![strings(pattern::scan_file())],
        Form::Grammar(grammar) => vec![strings(pattern::grammar(*grammar))],
        Form::Name(_) => vec![strings(pattern::end())],
        // These have no single value; [`alternatives`] has returned for them.
        Form::Table(_) | Form::ThingOrRun(..) | Form::List(_) => Vec::new(),
    }
}

/// Three of what these allow, in a list.
fn three(of: Vec<Json>) -> Json {
    map([
        ("type", text("array")),
        ("items", map([("anyOf", Json::List(of))])),
        ("minItems", Json::Number("3".into())),
        ("maxItems", Json::Number("3".into())),
    ])
}

/// The printed words for an editor to offer, and all that is read beside them.
fn words(list: &WordList) -> Vec<Json> {
    let mut printed: Vec<Json> = list.printed().map(text).collect();
    // `metal = 316` needs no quotes.
    printed.extend(
        list.rows
            .iter()
            .flat_map(|names| names.iter())
            .filter(|name| name.bytes().all(|byte| byte.is_ascii_digit()))
            .map(|name| Json::Number((*name).to_owned())),
    );
    vec![
        map([("enum", Json::List(printed))]),
        map([
            ("type", text("string")),
            ("pattern", text(pattern::whole(&pattern::any_word(list)))),
        ]),
    ]
}
