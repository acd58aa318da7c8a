//! From the rows of flow and heat to what is sent.

use quantity::{Kind, System};
use reckon::stages::flow as row;

use super::flow::{
    FlowArea, FlowArrangement, FlowAssumed, FlowBoth, FlowCame, FlowChange, FlowCompared,
    FlowCooler, FlowDry, FlowFigures, FlowHead, FlowHottest, FlowHull, FlowHullState, FlowItem,
    FlowMissing, FlowMost, FlowNeed, FlowOver, FlowPart, FlowPlace, FlowPower, FlowRaw,
    FlowRawPlace, FlowRule, FlowShares, FlowSide, FlowState, FlowStolen, FlowUncooled, FlowVolume,
    Spread,
};
use super::verdict::{kind_word, si_unit};
use super::{Number, Settles, Text, Verdict, Where};
use crate::figure::{Figure, ICE, duty_key};

/// A text in both systems.
fn text(say: impl Fn(System) -> String) -> Text {
    Text {
        metric: say(System::Metric),
        imperial: say(System::Imperial),
    }
}

/// A figure in SI: temperatures come in °C and go out in kelvins.
fn si(figure: Figure, value: f64) -> f64 {
    match figure {
        Figure::Temperature => value + ICE,
        _ => value,
    }
}

fn of_kind(kind: Kind, figure: Figure, value: f64) -> Number {
    Number {
        value: si(figure, value),
        unit: si_unit(kind).to_owned(),
        kind: kind_word(kind).to_owned(),
        text: text(|units| figure.text(value, units)),
    }
}

fn number(figure: Figure, value: f64) -> Number {
    of_kind(figure.unit(System::Metric).kind, figure, value)
}

/// A pressure over that of the air.
fn gauge(value: f64) -> Number {
    of_kind(Kind::GaugePressure, Figure::Pressure, value)
}

fn maybe(figure: Figure, value: Option<f64>) -> Option<Number> {
    value.map(|value| number(figure, value))
}

fn spread(figure: Figure, span: row::Span) -> Spread {
    let row::Span { low, mid, high } = span;
    let kind = figure.unit(System::Metric).kind;
    Spread {
        low: si(figure, low),
        middle: si(figure, mid),
        high: si(figure, high),
        unit: si_unit(kind).to_owned(),
        kind: kind_word(kind).to_owned(),
        text: text(|units| figure.span(span, units)),
    }
}

fn settles(settles: reckon::Settles, chart: &dyn Where) -> Settles {
    let reckon::Settles { place, how } = settles;
    Settles {
        place: chart.place(place),
        how,
    }
}

fn missing(missing: row::Missing, chart: &dyn Where) -> FlowMissing {
    let row::Missing { why, settles: by } = missing;
    FlowMissing {
        why,
        settles: settles(by, chart),
    }
}

fn stuff_word(stuff: row::Stuff) -> &'static str {
    match stuff {
        row::Stuff::Hose => "hose",
        row::Stuff::Steel => "steel",
        row::Stuff::Copper => "copper",
        row::Stuff::CuproNickel => "cupro-nickel",
        row::Stuff::Brass => "brass",
        row::Stuff::Bronze => "bronze",
        row::Stuff::AluminiumBronze => "aluminium bronze",
        row::Stuff::Aluminium => "aluminium",
    }
}

impl FlowArrangement {
    /// As it is sent.
    pub fn of(flow: reckon::Flow, chart: &dyn Where) -> Self {
        let reckon::Flow { row, verdicts } = flow;
        let row::FlowRow {
            arrangement,
            states,
            volume,
            hull,
            most,
            areas,
            assumed,
            missing: lacks,
            notes,
        } = row;
        Self {
            arrangement,
            states: states
                .into_iter()
                .map(|state| FlowState::of(state, chart))
                .collect(),
            volume: volume.map(|volume| FlowVolume::of(volume, chart)),
            hull: hull
                .into_iter()
                .map(|hull| FlowHull::of(hull, chart))
                .collect(),
            most: most.into_iter().map(FlowMost::of).collect(),
            areas: areas.into_iter().map(FlowArea::of).collect(),
            assumed: assumed
                .into_iter()
                .map(|assumed| FlowAssumed::of(assumed, chart))
                .collect(),
            missing: lacks.into_iter().map(|lack| missing(lack, chart)).collect(),
            notes: notes.into_iter().map(Text::from).collect(),
            verdicts: verdicts
                .into_iter()
                .map(|verdict| Verdict::of(verdict, Some(chart)))
                .collect(),
        }
    }
}

impl FlowState {
    fn of(state: row::StateRow, chart: &dyn Where) -> Self {
        let row::StateRow {
            key,
            duty,
            revs,
            speed,
            sea,
            power,
            heat,
            heat_from,
            came,
            dry,
        } = state;
        let (came, why, by, figures) = match came {
            row::Came::Steady(figures) => {
                let figures = FlowFigures::of(*figures, chart);
                (FlowCame::Steady, String::new(), None, Some(figures))
            }
            row::Came::NoSteadyState(why) => (FlowCame::NoSteadyState, why, None, None),
            row::Came::Unsolvable(why) => (FlowCame::Unsolvable, why, None, None),
            row::Came::Unmeasured(row::Missing { why, settles: by }) => {
                (FlowCame::Unmeasured, why, Some(settles(by, chart)), None)
            }
        };
        Self {
            state: key,
            duty: duty_key(duty).to_owned(),
            revs: number(Figure::Revs, revs),
            speed: number(Figure::Way, speed),
            sea: number(Figure::Temperature, sea),
            power: number(Figure::Heat, power),
            heat: spread(Figure::Heat, heat),
            heat_from,
            came,
            why,
            settles: by,
            figures,
            dry: dry.map(|dry| FlowDry::of(dry, chart)),
        }
    }
}

impl FlowDry {
    fn of(dry: row::Dry, chart: &dyn Where) -> Self {
        // Where it boils without a cap is told by how long it takes to get there.
        let row::Dry {
            why,
            place,
            shut,
            exhaust,
            begins,
            boils: _,
            uncooled,
        } = dry;
        Self {
            why,
            place: chart.place(place),
            shut,
            exhaust,
            begins: number(Figure::Temperature, begins),
            uncooled: uncooled.map(|row::Uncooled { alarm, boils }| FlowUncooled { alarm, boils }),
        }
    }
}

impl FlowFigures {
    fn of(figures: row::Figures, chart: &dyn Where) -> Self {
        let row::Figures {
            items,
            places,
            coolers,
            out,
            back,
            mixed,
            lift,
            reserve,
            flow,
            cooled,
            stolen,
            pump,
            suction,
            suction_over_boiling,
            hottest,
            standing,
            raw,
            uncooled,
        } = figures;
        Self {
            out: spread(Figure::Temperature, out),
            back: spread(Figure::Temperature, back),
            mixed: spread(Figure::Temperature, mixed),
            lift: lift.map(|lift| spread(Figure::Share, lift)),
            reserve: maybe(Figure::Share, reserve),
            flow: number(Figure::Flow, flow),
            cooled: number(Figure::Flow, cooled),
            stolen: stolen
                .into_iter()
                .map(|(by, share)| FlowStolen {
                    by,
                    share: number(Figure::Share, share),
                })
                .collect(),
            pump: number(Figure::Pressure, pump),
            suction: gauge(suction),
            suction_over_boiling: number(Figure::Pressure, suction_over_boiling),
            hottest: hottest.map(|(place, temperature, open, capped)| FlowHottest {
                place,
                temperature: number(Figure::Temperature, temperature),
                boils_open: number(Figure::Temperature, open),
                boils_under_cap: maybe(Figure::Temperature, capped),
            }),
            standing,
            items: items
                .into_iter()
                .map(|item| FlowItem::of(item, chart))
                .collect(),
            places: places.into_iter().map(FlowPlace::of).collect(),
            coolers: coolers.into_iter().map(FlowCooler::of).collect(),
            raw: raw.map(|raw| FlowRaw::of(raw, chart)),
            uncooled: uncooled.map(|row::Uncooled { alarm, boils }| FlowUncooled { alarm, boils }),
        }
    }
}

impl FlowRaw {
    fn of(raw: row::RawRow, chart: &dyn Where) -> Self {
        let row::RawRow {
            flow,
            bucket,
            gives,
            pump,
            over,
            inlet,
            outlet,
            places,
            missing,
        } = raw;
        Self {
            flow: number(Figure::Flow, flow),
            bucket,
            gives: maybe(Figure::Flow, gives),
            pump,
            over: over.map(|(subject, height, place)| FlowOver {
                subject,
                height: number(Figure::Height, height),
                place: chart.place(place),
            }),
            inlet: inlet.map(gauge),
            outlet: outlet.map(gauge),
            places: places.into_iter().map(FlowRawPlace::of).collect(),
            missing: missing.into_iter().map(|missing| missing.why).collect(),
        }
    }
}

impl FlowRawPlace {
    fn of(place: row::RawPlace) -> Self {
        let row::RawPlace {
            name,
            title,
            height,
            pressure,
            temperature,
            suction,
        } = place;
        Self {
            name,
            title,
            height,
            pressure,
            temperature: si(Figure::Temperature, temperature),
            suction,
        }
    }
}

impl FlowItem {
    fn of(item: row::ItemRow, chart: &dyn Where) -> Self {
        let row::ItemRow {
            subject,
            title,
            run,
            place,
            flow,
            drop,
            temperatures: [cold_in, out],
            speed,
            bore,
            reynolds,
            stuff,
            suction,
            soft,
            raw,
        } = item;
        Self {
            subject,
            title,
            run,
            place: chart.place(place),
            flow,
            drop,
            temperature_in: si(Figure::Temperature, cold_in),
            temperature_out: si(Figure::Temperature, out),
            speed,
            bore,
            reynolds,
            stuff: stuff_word(stuff).to_owned(),
            suction,
            soft,
            raw,
            text: text(|units| {
                format!(
                    "{}, loses {}, out at {}",
                    Figure::Flow.text(flow, units),
                    Figure::Pressure.text(drop, units),
                    Figure::Temperature.text(out, units)
                )
            }),
        }
    }
}

impl FlowPlace {
    fn of(place: row::PlaceRow) -> Self {
        let row::PlaceRow {
            name,
            title,
            along,
            height,
            open,
            capped,
            total,
            temperature,
            boils,
            rated,
        } = place;
        let (rated, weakest) = rated.unzip();
        Self {
            name,
            title,
            along,
            height,
            open,
            capped,
            total,
            temperature: si(Figure::Temperature, temperature),
            boils: boils.map(|boils| si(Figure::Temperature, boils)),
            rated,
            weakest,
            text: text(|units| {
                format!(
                    "{} at {}",
                    Figure::Pressure.text(open, units),
                    Figure::Temperature.text(temperature, units)
                )
            }),
        }
    }
}

impl FlowCooler {
    fn of(cooler: row::CoolerRow) -> Self {
        let row::CoolerRow {
            subject,
            title,
            heat,
            temperatures: [hot, cold],
            ua,
            area,
            speed,
            reynolds,
            films,
            shares,
            raw_out,
        } = cooler;
        let (inside, outside) = films.map(|[inside, outside]| (inside, outside)).unzip();
        Self {
            subject,
            title,
            heat: number(Figure::Heat, heat),
            temperature_in: number(Figure::Temperature, hot),
            temperature_out: number(Figure::Temperature, cold),
            ua: number(Figure::Ua, ua),
            area: maybe(Figure::Area, area),
            speed: maybe(Figure::Speed, speed),
            reynolds,
            film_inside: maybe(Figure::Film, inside),
            film_outside: maybe(Figure::Film, outside),
            shares: shares.map(
                |[film_inside, dirt_inside, wall, dirt_outside, film_outside]| FlowShares {
                    film_inside,
                    dirt_inside,
                    wall,
                    dirt_outside,
                    film_outside,
                },
            ),
            raw_out: maybe(Figure::Temperature, raw_out),
        }
    }
}

impl FlowHull {
    fn of(hull: row::HullRow, chart: &dyn Where) -> Self {
        let row::HullRow {
            subject,
            title,
            place,
            depth,
            sea,
            stopped,
            states,
            cap,
            turns,
        } = hull;
        Self {
            subject,
            title,
            place: chart.place(place),
            depth: number(Figure::Length, depth),
            sea: gauge(sea),
            stopped: number(Figure::Pressure, stopped),
            states: states
                .into_iter()
                .map(|(state, revs, difference)| FlowHullState {
                    state,
                    revs: number(Figure::Revs, revs),
                    difference: number(Figure::Pressure, difference),
                })
                .collect(),
            cap: maybe(Figure::Pressure, cap),
            turns: maybe(Figure::Revs, turns),
        }
    }
}

impl FlowMost {
    fn of(most: row::MostRow) -> Self {
        let row::MostRow {
            key,
            limit: (limit, limit_why),
            sea,
            power,
            smallest,
        } = most;
        Self {
            state: key,
            limit: number(Figure::Temperature, limit),
            limit_why,
            sea: maybe(Figure::Temperature, sea),
            power: power
                .into_iter()
                .map(|(sea, power)| FlowPower {
                    sea: number(Figure::Temperature, sea),
                    power: maybe(Figure::Heat, power),
                })
                .collect(),
            smallest: maybe(Figure::Share, smallest),
        }
    }
}

impl FlowArea {
    fn of(area: row::AreaRow) -> Self {
        let row::AreaRow {
            subject,
            area,
            rules,
            reckoned,
        } = area;
        Self {
            subject,
            area: number(Figure::Area, area),
            rules: rules
                .into_iter()
                .map(|(rule, area, source)| FlowRule {
                    rule,
                    area: number(Figure::Area, area),
                    source,
                })
                .collect(),
            reckoned: reckoned
                .into_iter()
                .map(|(state, duty, area)| FlowNeed {
                    state,
                    duty: duty_key(duty).to_owned(),
                    area: number(Figure::Area, area),
                })
                .collect(),
        }
    }
}

impl FlowVolume {
    fn of(volume: row::VolumeRow, chart: &dyn Where) -> Self {
        let row::VolumeRow {
            parts,
            whole,
            from,
            missing: lacks,
            temperatures: [cold, hot],
            growth,
            room,
            header,
            levels,
            air,
            cap,
            overflow,
            place,
        } = volume;
        let (level_cold, level_hot) = levels.map(|[cold, hot]| (cold, hot)).unzip();
        Self {
            place: chart.place(place),
            parts: parts
                .into_iter()
                .map(|(name, volume, from)| FlowPart {
                    name,
                    volume: number(Figure::Volume, volume),
                    from,
                })
                .collect(),
            whole: maybe(Figure::Volume, whole),
            from,
            missing: lacks.into_iter().map(|lack| missing(lack, chart)).collect(),
            cold: number(Figure::Temperature, cold),
            hot: number(Figure::Temperature, hot),
            growth: maybe(Figure::Volume, growth),
            room: maybe(Figure::Volume, room),
            header: maybe(Figure::Volume, header),
            level_cold: maybe(Figure::Height, level_cold),
            level_hot: maybe(Figure::Height, level_hot),
            air: air.map(gauge),
            cap: cap.map(gauge),
            overflow: maybe(Figure::Volume, overflow),
        }
    }
}

impl FlowAssumed {
    fn of(assumed: row::Assumed, chart: &dyn Where) -> Self {
        let row::Assumed {
            what,
            value,
            source,
            place,
        } = assumed;
        Self {
            what,
            value: value.into(),
            source,
            place: chart.place(place),
        }
    }
}

impl FlowCompared {
    /// As it is sent.
    pub fn of(compared: reckon::Compared) -> Self {
        let reckon::Compared {
            one,
            other,
            states,
            changes,
        } = compared;
        Self {
            one,
            other,
            states: states.into_iter().map(FlowBoth::of).collect(),
            changes: changes.into_iter().map(FlowChange::of).collect(),
        }
    }
}

impl FlowBoth {
    fn of(state: reckon::ComparedState) -> Self {
        let reckon::ComparedState {
            key,
            duty,
            flows,
            cooled,
            out,
            back,
            suction,
            lift,
            heads,
        } = state;
        let side = |at: usize| FlowSide {
            flow: number(Figure::Flow, flows[at]),
            cooled: number(Figure::Flow, cooled[at]),
            out: number(Figure::Temperature, out[at]),
            back: number(Figure::Temperature, back[at]),
            suction: gauge(suction[at]),
            lift: maybe(Figure::Share, lift[at]),
        };
        Self {
            state: key,
            duty: duty_key(duty).to_owned(),
            one: side(0),
            other: side(1),
            heads: heads
                .into_iter()
                .map(
                    |reckon::HeadRow {
                         subject,
                         title,
                         drops: [one, other],
                     }| FlowHead {
                        subject,
                        title,
                        one: maybe(Figure::Pressure, one),
                        other: maybe(Figure::Pressure, other),
                    },
                )
                .collect(),
        }
    }
}

impl FlowChange {
    fn of(change: reckon::Change) -> Self {
        let reckon::Change {
            subject,
            what,
            state,
            flow_gain,
            out_gain,
        } = change;
        Self {
            subject,
            what: what.into(),
            state,
            flow_gain: number(Figure::Flow, flow_gain),
            out_gain: number(Figure::Rise, out_gain),
        }
    }
}
