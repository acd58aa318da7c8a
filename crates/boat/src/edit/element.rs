//! One element of a list as the place of an edit.

use toml_edit::{Item, Value};

use super::{
    EditError, Splice, Spot, ending_of, keys_of, only_there, parsed, with_endings, without_mark,
};

/// A place of the form `list[3]`: the list and the number in it.
pub(super) fn of(place: &str) -> Option<(&str, usize)> {
    let (list, number) = place.strip_suffix(']')?.rsplit_once('[')?;
    Some((list, number.parse().ok()?))
}

/// Sets one element of a list that has it.
pub(super) fn set(
    text: &str,
    place: &str,
    (list, at): (&str, usize),
    value: &Value,
) -> Result<String, EditError> {
    let absent = || EditError::Absent(place.to_owned());
    let keys = keys_of(list)?;
    let (mark, body) = without_mark(text);
    let document = parsed(body)?;
    let spot = Spot::of(&document, place, &keys)?;
    let array = spot
        .item(&keys)
        .and_then(Item::as_array)
        .ok_or_else(absent)?;
    let old = array.get(at).ok_or_else(absent)?;
    let splice = Splice {
        range: old
            .span()
            .ok_or_else(|| EditError::Overreach(place.to_owned()))?,
        with: with_endings(
            &value.clone().decorated("", "").to_string(),
            ending_of(body),
        ),
    };
    let edited = format!("{mark}{}", splice.made_in(body));
    let mut new = array.clone();
    new.replace(at, value.clone());
    only_there(text, list, Some(&Value::Array(new)), edited)
}

#[cfg(test)]
mod tests {
    use super::super::{EditError, set_value};

    #[test]
    fn one_element_of_a_list_is_set_and_the_others_stay() {
        let text = "[bay.lies]\n# as found\nhot = { cut = [ 374, \"?\" ,511 ], roll = {} } # two\n";
        assert_eq!(
            set_value(text, "bay.lies.hot.cut[2]", "\"432 mm\"").unwrap(),
            "[bay.lies]\n# as found\nhot = { cut = [ 374, \"?\" ,\"432 mm\" ], roll = {} } # two\n"
        );
        let lines = "cut = [\n  1, # one\n  2,\n]\n";
        assert_eq!(
            set_value(lines, "cut[0]", "3").unwrap(),
            "cut = [\n  3, # one\n  2,\n]\n"
        );
        for absent in [
            "bay.lies.hot.cut[3]",
            "bay.lies.hot.roll[0]",
            "bay.lies.cold.cut[0]",
        ] {
            assert_eq!(
                set_value(text, absent, "1"),
                Err(EditError::Absent(absent.to_owned()))
            );
        }
    }
}
