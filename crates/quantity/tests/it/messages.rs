//! What is said about a text that is no quantity, and which bytes are to blame.

use quantity::*;

/// The text, the part of it that is to blame, and the sentence.
#[track_caller]
fn check<Q: Quantity>(text: &str, blamed: &str, message: &str) {
    compare(
        text,
        parse_reading::<Q>(text, None),
        Q::KIND,
        blamed,
        message,
    );
}

#[track_caller]
fn plain(text: &str, blamed: &str, message: &str) {
    compare(
        text,
        parse::<Length>(text, Some(Unit::mm())),
        Kind::Length,
        blamed,
        message,
    );
}

#[track_caller]
fn compare<T: std::fmt::Debug>(
    text: &str,
    found: Result<T, ParseError>,
    kind: Kind,
    blamed: &str,
    message: &str,
) {
    let error = found.expect_err(text);
    assert_eq!(
        (&text[error.span.clone()], error.message.as_str()),
        (blamed, message),
        "{text}"
    );
    assert_eq!(error.kind, kind);
    assert_eq!(error.to_string(), message);
}

#[test]
fn lengths() {
    let check = check::<Length>;
    check(
        "",
        "",
        "no number stands here; a length is due, such as 41.8 mm",
    );
    check(
        "   ",
        "   ",
        "no number stands here; a length is due, such as 41.8 mm",
    );
    check(
        "mm",
        "mm",
        "“mm” is no number; a length is due, such as 41.8 mm",
    );
    check(
        "abc",
        "abc",
        "“abc” is no number; a length is due, such as 41.8 mm",
    );
    check(
        "caliper",
        "caliper",
        "no number stands here; a length is due, such as 41.8 mm",
    );
    check(
        "±",
        "±",
        "“±” is no number; a length is due, such as 41.8 mm",
    );
    check(
        "41.8",
        "41.8",
        "41.8 has no unit; a length is due: mm, cm, m, in or ft",
    );
    check(
        "41.8 ± 0.2",
        "41.8",
        "41.8 has no unit; a length is due: mm, cm, m, in or ft",
    );
    check(
        "41 mn",
        "mn",
        "“mn” is no unit of length; did you mean mm? (mm, cm, m, in or ft)",
    );
    check(
        "41 milimetres",
        "milimetres",
        "“milimetres” is no unit of length; did you mean mm? (mm, cm, m, in or ft)",
    );
    check(
        "41 inchs",
        "inchs",
        "“inchs” is no unit of length; did you mean in? (mm, cm, m, in or ft)",
    );
    check(
        "41 m m",
        "m",
        "“m” after 41 m is neither a tolerance (± …) nor an instrument (caliper, tape …)",
    );
    check(
        "41 feets",
        "feets",
        "“feets” is no unit of length; did you mean ft? (mm, cm, m, in or ft)",
    );
    check(
        "41 bar",
        "bar",
        "bar is a pressure; a length is due: mm, cm, m, in or ft",
    );
    check(
        "41 °C",
        "°C",
        "°C is a temperature; a length is due: mm, cm, m, in or ft",
    );
    check(
        "41 kW",
        "kW",
        "kW is a power; a length is due: mm, cm, m, in or ft",
    );
    check(
        "41 L",
        "L",
        "L is a volume; a length is due: mm, cm, m, in or ft",
    );
    check(
        "41 bar abs",
        "bar abs",
        "bar abs is an absolute pressure; a length is due: mm, cm, m, in or ft",
    );
    check(
        "41.8 gal",
        "gal",
        "gal is a volume; a length is due: mm, cm, m, in or ft",
    );
    check(
        "41.8 gpm",
        "gpm",
        "gpm is a flow; a length is due: mm, cm, m, in or ft",
    );
    check(
        "41 ± 2 bar",
        "bar",
        "bar is a pressure; a length is due: mm, cm, m, in or ft",
    );
    check("1e999 mm", "1e999", "1e999 is too large");
    check(
        "1e308 km",
        "km",
        "“km” is no unit of length; did you mean mm? (mm, cm, m, in or ft)",
    );
    check(
        "41 mm ± -1 mm",
        "± -1",
        "± -1 is no tolerance: it is over 0",
    );
    check("41 mm ± 0", "± 0", "± 0 is no tolerance: it is over 0");
    check("41 mm ± 0 %", "± 0", "± 0 is no tolerance: it is over 0");
    check(
        "41 ± +1 mm",
        "± +1 mm",
        "± has its sign already: the number after it goes without",
    );
    check("41 ± mm", "±", "± wants a number after it, such as ± 0.2");
    check("41 mm ±", "±", "± wants a number after it, such as ± 0.2");
    check("5/0 in", "5/0", "5/0 divides by nothing");
    check("1 5/0 in", "5/0", "5/0 divides by nothing");
    check(
        "1 9/8 in",
        "1 9/8",
        "9/8 after a whole number is one or more",
    );
    check(
        "123456/7 in",
        "123456/7",
        "123456/7 is no fraction that a rule has",
    );
    check(
        "42 to 40 mm",
        "42 to 40 mm",
        "42 to 40 mm does not run upward: the lower one first",
    );
    check(
        "40 to 40 mm",
        "40 to 40 mm",
        "40 to 40 mm does not run upward: the lower one first",
    );
    check(
        "40 to mm",
        "to",
        "“to” wants a second number after it, such as 40 to 42",
    );
    check(
        "40 mm to",
        "to",
        "“to” wants a second number after it, such as 40 to 42",
    );
    check(
        "40 -42 mm",
        "40 -42",
        "40 -42 may be limits or a minus sign: for limits write “40 to 42”",
    );
    check(
        "-42-40 mm",
        "-42-40",
        "-42-40 may be limits or a minus sign: for limits write “40 to 42”",
    );
    check(
        "1,234 mm",
        "1,234",
        "1,234 may be 1.234 or 1234: write one of them",
    );
    check("1.2.3 mm", "1.2.3", "1.2.3 has more than one decimal point");
    check(
        "1,2.3,4 mm",
        "1,2.3,4",
        "1,2.3,4 has more than one decimal point",
    );
    check(
        "41.8 mm foo",
        "foo",
        "“foo” after 41.8 mm is neither a tolerance (± …) nor an instrument (caliper, tape …)",
    );
    check(
        "41.8 mm calipr",
        "calipr",
        "“calipr” after 41.8 mm is no instrument; did you mean caliper?",
    );
    check(
        "41 42 mm",
        "42",
        "“42” after 41 is a second number; for limits write “40 to 42” or “41 ± 1”",
    );
    check(
        "41.8 mm caliper tape",
        "tape",
        "caliper and tape both stand here: keep one",
    );
    check(
        "about 42 mm caliper",
        "caliper",
        "guessed and caliper both stand here: keep one",
    );
    check(
        "from 40 mm",
        "from",
        "“from” wants both ends, such as 40 to 42",
    );
    check(
        "between 40 mm",
        "between",
        "“between” wants both ends, such as 40 to 42",
    );
    check(
        "40 to 42 mm ± 1",
        "± 1",
        "one tolerance is due, and here is a second one",
    );
    check(
        "41 ± 1 ± 2 mm",
        "± 2 mm",
        "one tolerance is due, and here is a second one",
    );
    check(
        "41.8 mm (caliper",
        "(",
        "“(” after 41.8 mm is neither a tolerance (± …) nor an instrument (caliper, tape …)",
    );
    check(
        "41.8 mm)",
        ")",
        "“)” after 41.8 mm is neither a tolerance (± …) nor an instrument (caliper, tape …)",
    );
    check(
        "twelve mm",
        "twelve",
        "“twelve” is no number; a length is due, such as 41.8 mm",
    );
    check(
        "½/2 in",
        "/2",
        "“/2” is no unit of length: mm, cm, m, in or ft",
    );
    check(
        "41 m/x",
        "m/x",
        "“m/x” is no unit of length: mm, cm, m, in or ft",
    );
    check(
        "±41 mm",
        "±",
        "“±” is no number; a length is due, such as 41.8 mm",
    );
    check(
        "41.8 mm @ 3 bar",
        "@",
        "“@” after 41.8 mm is neither a tolerance (± …) nor an instrument (caliper, tape …)",
    );
    check(
        "41 mm 2",
        "2",
        "“2” after 41 mm is a second number; for limits write “40 to 42” or “41 ± 1”",
    );
    check(
        "4 mm²",
        "mm²",
        "mm² is an area; a length is due: mm, cm, m, in or ft",
    );
}

#[test]
fn the_other_kinds() {
    check::<Area>(
        "12",
        "12",
        "12 has no unit; an area is due: mm², cm², m², in² or ft²",
    );
    check::<Area>(
        "12 mm",
        "mm",
        "mm is a length; an area is due: mm², cm², m², in² or ft²",
    );
    check::<Volume>(
        "3 gal",
        "gal",
        "gal may be US or imperial: write US gal or imp gal",
    );
    check::<Volume>(
        "3 gallons",
        "gallons",
        "gallons may be US or imperial: write US gal or imp gal",
    );
    check::<Volume>(
        "2 pints",
        "pints",
        "pints may be US or imperial: write US pt or imp pt",
    );
    check::<Volume>(
        "3 quarts",
        "quarts",
        "quarts may be US or imperial: write US qt or imp qt",
    );
    check::<Volume>(
        "3 litrs",
        "litrs",
        "“litrs” is no unit of volume; did you mean L? (L, mL, m³, US gal or imp gal)",
    );
    check::<Volume>(
        "12 kg",
        "kg",
        "kg is a mass; a volume is due: L, mL, m³, US gal or imp gal",
    );
    check::<Volume>(
        "3 L/min",
        "L/min",
        "L/min is a flow; a volume is due: L, mL, m³, US gal or imp gal",
    );
    check::<Mass>("4", "4", "4 has no unit; a mass is due: kg, g or lb");
    check::<Mass>("4 mm", "mm", "mm is a length; a mass is due: kg, g or lb");
    check::<Time>("4", "4", "4 has no unit; a time is due: s, min, h or d");
    check::<Time>(
        "4 month",
        "month",
        "“month” is no unit of time: s, min, h or d",
    );
    check::<Time>("4 m", "m", "m is a length; a time is due: s, min, h or d");
    check::<Temperature>(
        "82",
        "82",
        "82 has no unit; a temperature is due: °C, °F or K",
    );
    check::<Temperature>(
        "-300 °C",
        "-300 °C",
        "-300 °C is below absolute zero, −273.15 °C",
    );
    check::<Temperature>("-1 K", "-1 K", "-1 K is below absolute zero, −273.15 °C");
    check::<Temperature>(
        "-500 °F",
        "-500 °F",
        "-500 °F is below absolute zero, −273.15 °C",
    );
    check::<Temperature>(
        "84 °C ± 2 %",
        "± 2 %",
        "± 2 % of a temperature says nothing: write it in K, °C or °F",
    );
    check::<Temperature>(
        "82 bar",
        "bar",
        "bar is a pressure; a temperature is due: °C, °F or K",
    );
    check::<Temperature>(
        "82 Celcius",
        "Celcius",
        "“Celcius” is no unit of temperature; did you mean °C? (°C, °F or K)",
    );
    check::<Temperature>(
        "82 °",
        "°",
        "° is an angle; a temperature is due: °C, °F or K",
    );
    check::<TemperatureDifference>(
        "8",
        "8",
        "8 has no unit; a temperature difference is due: K, °C or °F",
    );
    check::<TemperatureDifference>(
        "8 bar",
        "bar",
        "bar is a pressure; a temperature difference is due: K, °C or °F",
    );
    check::<GaugePressure>(
        "0.9",
        "0.9",
        "0.9 has no unit; a gauge pressure is due: bar, kPa or psi",
    );
    check::<GaugePressure>(
        "0.9 bar abs",
        "bar abs",
        "bar abs is an absolute pressure; a gauge pressure is due: bar, kPa or psi",
    );
    check::<GaugePressure>(
        "0.5 mPa",
        "mPa",
        "“mPa” is no unit of gauge pressure; did you mean MPa? (bar, kPa or psi)",
    );
    check::<GaugePressure>(
        "0.9 mm",
        "mm",
        "mm is a length; a gauge pressure is due: bar, kPa or psi",
    );
    check::<GaugePressure>(
        "0.9 br",
        "br",
        "“br” is no unit of gauge pressure; did you mean bar? (bar, kPa or psi)",
    );
    check::<AbsolutePressure>(
        "1.9",
        "1.9",
        "1.9 has no unit; an absolute pressure is due: bar absolute, kPa absolute or psi absolute",
    );
    check::<AbsolutePressure>(
        "1.9 bar",
        "bar",
        "bar alone means gauge; an absolute pressure is due: bar absolute, kPa absolute or psi absolute",
    );
    check::<AbsolutePressure>(
        "1.9 ± 0.1 bar",
        "bar",
        "bar alone means gauge; an absolute pressure is due: bar absolute, kPa absolute or psi absolute",
    );
    check::<AbsolutePressure>(
        "-1 bar absolute",
        "-1 bar absolute",
        "-1 bar absolute is below vacuum, 0 bar absolute",
    );
    check::<AbsolutePressure>(
        "28 psi",
        "psi",
        "psi alone means gauge; an absolute pressure is due: bar absolute, kPa absolute or psi absolute",
    );
    check::<AbsolutePressure>(
        "1.9 bar gauge",
        "bar gauge",
        "bar gauge is a gauge pressure; an absolute pressure is due: bar absolute, kPa absolute or psi absolute",
    );
    check::<PressureDifference>(
        "1.9",
        "1.9",
        "1.9 has no unit; a pressure difference is due: bar, mbar, kPa or psi",
    );
    check::<PressureDifference>(
        "1.9 bar gauge",
        "bar gauge",
        "bar gauge is a gauge pressure; a pressure difference is due: bar, mbar, kPa or psi",
    );
    check::<PressureDifference>(
        "1.9 bar absolute",
        "bar absolute",
        "bar absolute is an absolute pressure; a pressure difference is due: bar, mbar, kPa or psi",
    );
    check::<Power>(
        "38",
        "38",
        "38 has no unit; a power is due: kW, W, hp or PS",
    );
    check::<Power>(
        "38 kWh",
        "kWh",
        "“kWh” is no unit of power; did you mean kW? (kW, W, hp or PS)",
    );
    check::<Power>(
        "38 Kv",
        "Kv",
        "“Kv” is no unit of power; did you mean kW? (kW, W, hp or PS)",
    );
    check::<Power>(
        "38 N m",
        "N m",
        "N m is a torque; a power is due: kW, W, hp or PS",
    );
    check::<VolumeFlow>(
        "2000 gal/h",
        "gal/h",
        "gal/h may be US or imperial: write US gal/h or imp gal/h",
    );
    check::<VolumeFlow>(
        "8 gpm",
        "gpm",
        "gpm may be US or imperial: write US gal/min or imp gal/min",
    );
    check::<VolumeFlow>(
        "8 L",
        "L",
        "L is a volume; a flow is due: L/min, L/h, m³/h, US gal/min, US gal/h or imp gal/min",
    );
    check::<VolumeFlow>(
        "8 L/mim",
        "L/mim",
        "“L/mim” is no unit of flow; did you mean L/min? (L/min, L/h, m³/h, US gal/min, US gal/h or imp gal/min)",
    );
    check::<VolumeFlow>(
        "8",
        "8",
        "8 has no unit; a flow is due: L/min, L/h, m³/h, US gal/min, US gal/h or imp gal/min",
    );
    check::<RotationalSpeed>(
        "2600",
        "2600",
        "2600 has no unit; a shaft speed is due: rpm",
    );
    check::<RotationalSpeed>(
        "2600 rmp",
        "rmp",
        "“rmp” is no unit of shaft speed; did you mean rpm?",
    );
    check::<RotationalSpeed>("2600 kn", "kn", "kn is a speed; a shaft speed is due: rpm");
    check::<Speed>(
        "6.2",
        "6.2",
        "6.2 has no unit; a speed is due: kn, m/s, km/h or mph",
    );
    check::<Speed>(
        "6.2 knts",
        "knts",
        "“knts” is no unit of speed; did you mean kn? (kn, m/s, km/h or mph)",
    );
    check::<Speed>(
        "6 km",
        "km",
        "“km” is no unit of speed; did you mean kn? (kn, m/s, km/h or mph)",
    );
    check::<Torque>(
        "5",
        "5",
        "5 has no unit; a torque is due: N m, lbf·in or lbf·ft",
    );
    check::<Torque>(
        "5 J",
        "J",
        "“J” is no unit of torque: N m, lbf·in or lbf·ft",
    );
    check::<Torque>(
        "5 N",
        "N",
        "“N” is no unit of torque: N m, lbf·in or lbf·ft",
    );
    check::<Angle>("45", "45", "45 has no unit; an angle is due: ° or rad");
    check::<Ratio>("45", "45", "45 has no unit; a ratio is due: % or :1");
    check::<Ratio>("45 °", "°", "° is an angle; a ratio is due: % or :1");
    check::<Current>("90", "90", "90 has no unit; a current is due: A");
    check::<Current>("90 V", "V", "V is a voltage; a current is due: A");
    check::<Voltage>("14", "14", "14 has no unit; a voltage is due: V");
    check::<Voltage>("14 A", "A", "A is a current; a voltage is due: V");
}

#[test]
fn where_one_plain_value_is_due() {
    plain(
        "41.8 ± 0.2 mm",
        "± 0.2 mm",
        "one plain value is due here, such as 41.8 mm",
    );
    plain(
        "41.8 mm caliper",
        "caliper",
        "one plain value is due here, such as 41.8 mm",
    );
    plain(
        "40 to 42 mm",
        "to 42 mm",
        "one plain value is due here, such as 41.8 mm",
    );
    plain(
        "41.8 foo",
        "foo",
        "“foo” is no unit of length; did you mean ft? (mm, cm, m, in or ft)",
    );
    plain(
        "1 5/8",
        "1 5/8",
        "1 5/8 has no unit, and mm are seldom halved: write 1 5/8 in or 1 5/8 mm",
    );
    plain(
        "41.8 mm x",
        "x",
        "“x” after 41.8 mm is neither a tolerance (± …) nor an instrument (caliper, tape …)",
    );
}

#[test]
fn where_two_go_together() {
    #[track_caller]
    fn pair(text: &str, blamed: &str, message: &str) {
        let error = parse_at::<Power, RotationalSpeed>(text, None, None).expect_err(text);
        assert_eq!(
            (&text[error.span.clone()], error.message.as_str()),
            (blamed, message),
            "{text}"
        );
    }
    pair(
        "38 kW",
        "38 kW",
        "38 kW is not said at which shaft speed: write 38 kW @ and the shaft speed in rpm",
    );
    pair(
        "38",
        "38",
        "38 has no unit; a power is due: kW, W, hp or PS",
    );
    pair(
        "38 kW @",
        "",
        "no number stands here; a shaft speed is due, such as 2600 rpm",
    );
    pair(
        "@ 2600 rpm",
        "",
        "no number stands here; a power is due, such as 38 kW",
    );
    pair(
        "38 kW @ 26 bar",
        "bar",
        "bar is a pressure; a shaft speed is due: rpm",
    );
    pair(
        "38 bar @ 2600 rpm",
        "bar",
        "bar is a pressure; a power is due: kW, W, hp or PS",
    );
    pair(
        "38 kW @ 2600",
        "2600",
        "2600 has no unit; a shaft speed is due: rpm",
    );
}

#[test]
fn a_span_moves_with_the_text_around_it() {
    let error = parse::<Length>("41 mn", None).expect_err("no unit");
    assert_eq!(error.span, 3..5);
    assert_eq!(error.moved(10).span, 13..15);
}
