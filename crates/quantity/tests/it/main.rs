//! The outside view of `quantity`.
use quantity::*;
#[test]
fn probe() {
    let mm = Some(Unit::mm());
    for t in [
        "41.8 mm",
        "41.8mm",
        "41,8 mm",
        "1 5/8 in",
        "1-5/8 in",
        "1 1/2\"",
        "1½\"",
        "1.65 in",
        "1/2 in",
        "41.8 ± 0.2 mm",
        "41.8 mm ± 0.2",
        "41.8 mm +- .2 mm",
        "41.8 mm ± 2 %",
        "40 to 42 mm",
        "40..42 mm",
        "40.5...42 mm",
        "40-42 mm",
        "40 - 42 mm",
        "40–42 mm",
        "40 -42 mm",
        "about 42 mm",
        "~42 mm",
        "41.8 mm caliper",
        "41.8 mm, by the tape",
        "(plate) 41 mm",
        "guessed 41 mm",
        "−410 mm",
        "+820 mm",
        "12 400 mm",
        "1,234 mm",
        "12,345.6 mm",
        "5 ft 3 in",
        "5'-3 1/2\"",
        "41 mn",
        "41 bar",
        "41.8",
        "",
        "mm",
        "abc",
        "1e999 mm",
        "41 ± -1 mm",
        "41 ± 0 mm",
        "5/0 in",
        "1 9/8 in",
        "42 to 40 mm",
        "41.8 mm foo",
        "41.8 mm calipr",
        "41 42 mm",
        "41.8 gal",
        "40 mm to 4.2 cm",
        "between 40 and 42 mm water level",
        "from 42 mm",
        "41.8 mm - caliper",
        "41.8 ± mm",
        "41.8 mm ± 1/16 in",
        "41.8 mm ± 2 bar",
        "41.8 m/x",
        "2 µm",
        "1.2.3 mm",
        "40 in..42 in",
    ] {
        match parse_reading::<Length>(t, None) {
            Ok(r) => println!(
                "{t:28} {:?} {:?} {:?} {}",
                r.value, r.tolerance, r.instrument, r.unit.name
            ),
            Err(e) => println!("{t:28} ERR {:?} {}", e.span, e.message),
        }
    }
    for t in ["41.8", "41.8 ± 0.2", "40-42", "1 5/8", "38 caliper"] {
        println!(
            "{t} {:?}",
            parse_reading::<Length>(t, mm).map(|r| (r.value, r.tolerance))
        );
    }
    for t in [
        "82 °C",
        "180 °F",
        "82C",
        "82 deg C",
        "82degC",
        "-300 °C",
        "84 ± 2 °C",
        "84 °C ± 2 K",
        "84 °C ± 2 %",
        "82 bar",
        "-15 °C",
        "±2 K",
    ] {
        println!(
            "{t} {:?}",
            parse_reading::<Temperature>(t, None)
                .map(|r| (r.value, r.tolerance))
                .map_err(|e| e.message)
        );
    }
    for t in [
        "0.9 bar",
        "13 psi",
        "0.9 bar abs",
        "0.9barg",
        "90 kPa",
        "0.5 MPa",
        "0.5 mPa",
    ] {
        println!(
            "{t} {:?}",
            parse_reading::<GaugePressure>(t, None)
                .map(|r| (r.value, r.tolerance))
                .map_err(|e| e.message)
        );
    }
    for t in [
        "0.9 bar",
        "1.9 bar absolute",
        "1.9 ± 0.1 bar",
        "1.9 bar abs ± 0.1 bar",
        "1.9 ± 0.1 bara",
    ] {
        println!(
            "{t} {:?}",
            parse_reading::<AbsolutePressure>(t, None)
                .map(|r| (r.value, r.tolerance))
                .map_err(|e| e.message)
        );
    }
    for t in [
        "2000 US gal/h",
        "2000 US gallons per hour",
        "2000 gal/h",
        "500gph",
        "40 l/min",
        "40 L per min",
        "3 m3/h",
        "3 m^3/h",
        "3 usgpm",
    ] {
        println!(
            "{t} {:?}",
            parse::<VolumeFlow>(t, None).map_err(|e| e.message)
        );
    }
    for t in [
        "5 Nm",
        "5 N·m",
        "5 N m",
        "40 in-lb",
        "40 lbf in",
        "40 lb.in",
        "4 ftlb",
    ] {
        println!("{t} {:?}", parse::<Torque>(t, None).map_err(|e| e.message));
    }
    for t in [
        "45 %",
        "45 ± 2 %",
        "45 % ± 2 % of it",
        "1.1:1",
        "1.1 : 1",
        "45",
    ] {
        println!(
            "{t} {:?}",
            parse_reading::<Ratio>(t, None)
                .map(|r| (r.value, r.tolerance))
                .map_err(|e| e.message)
        );
    }
    for t in [
        "38 kW @ 2600 rpm",
        "62 kW at 2600 rpm plate",
        "38 kW",
        "38 kW @ 26 bar",
    ] {
        println!(
            "{t} {:?}",
            parse_at::<Power, RotationalSpeed>(t, None, None).map_err(|e| (e.span, e.message))
        );
    }
    for t in ["1 h 30 min", "20 min", "3 to 6 min"] {
        println!(
            "{t} {:?}",
            parse_reading::<Time>(t, None)
                .map(|r| (r.value, r.tolerance))
                .map_err(|e| e.message)
        );
    }
}
