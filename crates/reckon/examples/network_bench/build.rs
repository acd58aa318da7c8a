//! From a case to a network. What is wrong is told with the path of the field.

use std::collections::BTreeMap;
use std::f64::consts::PI;

use quantity::{Angle, Length, Quantity, VolumeFlow};
use reckon::solve::net::{
    Branch, Cooler, Curve, Film, Geometry, Gives, Law, Lift, Medium, Network, Node, Outside, Part,
    Pipe, Pump, Rated, Raw, Role, Stat, Surface, Tubes, Ua, liquids,
};
use reference::Unknown;
use reference::exchanger::Arrangement;
use reference::fitting::{
    Entrance, FittingKind, bend, contraction, enlargement, entrance, exit, fitting, reduced_valve,
};
use reference::media::{Glycol, MassFraction, Strength, VolumeFraction};
use reference::pump::{Monotone, Point, Quadratic};

use crate::case::{BranchRow, Case, CoolerRow, CurveRow, Element, FluidRow, OutsideRow};

/// A network with the names of its nodes.
pub(crate) struct Made {
    pub network: Network,
    pub nodes: Vec<String>,
    pub glycol: Option<(Glycol, MassFraction)>,
}

/// Makes the network of a case.
pub(crate) fn build(case: &Case) -> Result<Made, String> {
    let nodes: Vec<String> = case.nodes.keys().cloned().collect();
    let index: BTreeMap<&str, usize> = nodes
        .iter()
        .enumerate()
        .map(|(i, name)| (name.as_str(), i))
        .collect();
    let node = |path: String, name: &str| {
        index
            .get(name)
            .copied()
            .ok_or_else(|| format!("{path}: there is no node “{name}”"))
    };
    let (medium, glycol) = medium(case)?;
    let mut made: Vec<Node> = case
        .nodes
        .values()
        .map(|row| Node {
            height: row.z_m,
            ..Node::default()
        })
        .collect();
    for (name, fixed) in &case.fixed {
        made[node(format!("fixed.{name}"), name)?].fixed = Some(fixed.p_gauge_Pa);
    }
    for (name, flow) in &case.inflow_m3_s {
        if case.isothermal_C.is_none() {
            return Err("inflow_m3_s: only with isothermal_C".into());
        }
        made[node(format!("inflow_m3_s.{name}"), name)?].inflow = *flow;
    }
    let mut branches = Vec::new();
    for (i, row) in case.branches.iter().enumerate() {
        branches.push(Branch {
            from: node(format!("branches[{i}].from"), &row.from)?,
            to: node(format!("branches[{i}].to"), &row.to)?,
            open: !row.closed,
            parts: parts(i, row)?,
        });
    }
    let stat = match &case.thermostat {
        Some(row) if row.T_full_C > row.T_open_C => Some(Stat {
            node: node("thermostat.sense_node".into(), &row.sense_node)?,
            opens: row.T_open_C,
            full: row.T_full_C,
        }),
        Some(_) => return Err("thermostat.T_full_C: must lie over T_open_C".into()),
        None => None,
    };
    let still = case.hydrostatic_T_C.or(case.isothermal_C).unwrap_or(80.0);
    Ok(Made {
        network: Network {
            column: medium.density(still),
            medium: medium.into(),
            law: Law::Line,
            nodes: made,
            branches,
            tees: Vec::new(),
            stat,
            isothermal: case.isothermal_C,
        },
        nodes,
        glycol,
    })
}

fn medium(case: &Case) -> Result<(Medium, Option<(Glycol, MassFraction)>), String> {
    let row = &case.coolant;
    let said = |why: Unknown| format!("coolant: {}", why.why);
    let glycol = match row.kind.as_str() {
        "water" => return Ok((liquids::fresh().map_err(said)?, None)),
        "constant" => {
            let get = |value: Option<f64>, name: &str| {
                value.ok_or_else(|| format!("coolant.{name}: missing for a constant coolant"))
            };
            let made = Medium::constant(
                get(row.rho, "rho")?,
                row.cp.unwrap_or(4000.0),
                row.k.unwrap_or(0.6),
                get(row.mu, "mu")?,
            );
            return Ok((
                made.ok_or("coolant: each property must be over zero")?,
                None,
            ));
        }
        "MEG" => Glycol::Ethylene,
        "MPG" => Glycol::Propylene,
        other => {
            return Err(format!(
                "coolant.type: “{other}” is not water, MEG, MPG or constant"
            ));
        }
    };
    let share = match (row.mass_fraction, row.volume_fraction) {
        (Some(mass), None) => MassFraction::of(mass),
        (None, Some(volume)) => VolumeFraction::of(volume).map(|v| v.to_mass(glycol)),
        _ => return Err("coolant: one of mass_fraction and volume_fraction is needed".into()),
    };
    let share = share.ok_or("coolant: a fraction lies between 0 and 1")?;
    Ok((
        liquids::mix(glycol, share).map_err(said)?,
        Some((glycol, share)),
    ))
}

fn parts(i: usize, row: &BranchRow) -> Result<Vec<Part>, String> {
    row.elements
        .iter()
        .enumerate()
        .map(|(j, element)| {
            part(element).map_err(|why| format!("branches[{i}].elements[{j}]{why}"))
        })
        .collect()
}

fn m(metres: f64) -> Length {
    Length::of_si(metres)
}

fn part(element: &Element) -> Result<Part, String> {
    let over = |name: &str, value: f64| {
        (value > 0.0 && value.is_finite())
            .then_some(value)
            .ok_or_else(|| format!(".{name}: must be over zero"))
    };
    let said = |why: Unknown| format!(": {}", why.why);
    Ok(match element {
        Element::Pipe {
            D_m,
            L_m,
            eps_m,
            f_darcy,
            K,
            fittings,
            n,
        } => {
            let bore = over("D_m", *D_m)?;
            let mut k = *K;
            for (kind, count) in fittings {
                k += count
                    * coefficient(kind, bore, None).map_err(|why| format!(".fittings{why}"))?;
            }
            Part::Pipe(Pipe {
                bore,
                length: *L_m,
                roughness: eps_m / bore,
                k,
                count: over("n", n.unwrap_or(1.0))?,
                factor: *f_darcy,
                times: 1.0,
            })
        }
        Element::K { K, D_m } => loss(*K, *K, over("D_m", *D_m)?),
        Element::Fitting {
            kind,
            D_m,
            count,
            r_D,
        } => {
            let bore = over("D_m", *D_m)?;
            let k = coefficient(kind, bore, *r_D)? * count.unwrap_or(1.0);
            loss(k, k, bore)
        }
        Element::Valve {
            kind,
            D_m,
            D_bore_m,
            angle_deg,
        } => {
            let bore = over("D_m", *D_m)?;
            let own = over("D_bore_m", D_bore_m.unwrap_or(bore))?;
            let mut k = coefficient(kind, own, None)?;
            if own < bore {
                let angle = Angle::degrees(angle_deg.unwrap_or(180.0));
                k = reduced_valve(k, own / bore, angle).map_err(said)?;
            }
            loss(k, k, bore)
        }
        Element::Reducer {
            D1_m,
            D2_m,
            angle_deg,
        } => {
            let (one, other) = (over("D1_m", *D1_m)?, over("D2_m", *D2_m)?);
            let (small, large) = (one.min(other), one.max(other));
            let angle = Angle::degrees(*angle_deg);
            let narrows = contraction(small / large, angle).map_err(said)?;
            let widens = enlargement(small / large, angle).map_err(said)?;
            if other < one {
                loss(narrows, widens, small)
            } else {
                loss(widens, narrows, small)
            }
        }
        Element::Component {
            dp_ref_Pa,
            Q_ref_m3_s,
            n,
            rho_ref,
            Q_W,
        } => Part::Rated {
            drop: *dp_ref_Pa,
            flow: over("Q_ref_m3_s", *Q_ref_m3_s)?,
            power: n.unwrap_or(2.0),
            density: over("rho_ref", rho_ref.unwrap_or(1000.0))?,
            heat: Q_W.unwrap_or(0.0),
        },
        Element::Pump {
            curve,
            speed_rpm,
            ref_speed_rpm,
        } => Part::Pump(Pump {
            curve: self::curve(curve)?,
            ratio: speed_rpm / over("ref_speed_rpm", *ref_speed_rpm)?,
        }),
        Element::Thermostat {
            role,
            D_m,
            K_open,
            leak,
            closes,
        } => Part::Lift(Lift {
            role: match (role.as_str(), closes.unwrap_or(true)) {
                ("main", _) => Role::Main,
                ("bypass", true) => Role::Bypass,
                ("bypass", false) => Role::OpenBypass,
                (other, _) => return Err(format!(".role: “{other}” is not main or bypass")),
            },
            bore: over("D_m", *D_m)?,
            open: *K_open,
            leak: *leak,
        }),
        Element::Cooler(row) => Part::Cooler(Box::new(cooler(row)?)),
    })
}

fn loss(ahead: f64, back: f64, bore: f64) -> Part {
    Part::Loss { ahead, back, bore }
}

fn coefficient(kind: &str, bore: f64, r_d: Option<f64>) -> Result<f64, String> {
    let said = |why: Unknown| format!(": {}", why.why);
    let of = |kind| fitting(kind, m(bore)).map_err(said);
    match kind {
        "elbow90_std" => of(FittingKind::Elbow90),
        "elbow45_std" => of(FittingKind::Elbow45),
        "tee_run" => of(FittingKind::TeeRun),
        "tee_branch" => of(FittingKind::TeeBranch),
        "return_bend" => of(FittingKind::ReturnBend),
        "mitre90" => of(FittingKind::Mitre90),
        "ball_valve" => of(FittingKind::BallValve),
        "gate_valve" => of(FittingKind::GateValve),
        "globe_valve" => of(FittingKind::GlobeValve),
        "angle_valve" => of(FittingKind::AngleValve),
        "swing_check" => of(FittingKind::SwingCheck),
        "entrance_sharp" => entrance(Entrance::Sharp).map_err(said),
        "entrance_inward" => entrance(Entrance::Inward).map_err(said),
        "exit" => Ok(exit()),
        "bend90" => {
            let ratio = r_d.ok_or(".r_D: missing for a bend")?;
            bend(m(bore), m(bore * ratio), Angle::degrees(90.0)).map_err(said)
        }
        other => Err(format!(".kind: “{other}” is no fitting that is known")),
    }
}

fn curve(row: &CurveRow) -> Result<Curve, String> {
    let said = |why: Unknown| format!(".curve: {}", why.why);
    if let Some(points) = &row.points {
        let mut rows: Vec<Point> = Vec::new();
        for [flow, head] in points {
            let flow = VolumeFlow::from_si(*flow).ok_or(".curve.points: a flow is no number")?;
            let head = Length::from_si(*head).ok_or(".curve.points: a head is no number")?;
            rows.push(Point { flow, head });
        }
        return match row.fit.as_deref() {
            Some("pchip") => {
                let flows = || points.iter().map(|point| point[0]);
                let ends = [
                    flows().fold(f64::INFINITY, f64::min),
                    flows().fold(f64::NEG_INFINITY, f64::max),
                ];
                let curve = Monotone::through(&rows).map_err(said)?;
                Ok(Curve::Points { curve, ends })
            }
            Some("quadratic") | None => {
                Ok(Curve::Quadratic(Quadratic::through(&rows).map_err(said)?))
            }
            Some(other) => Err(format!(".curve.fit: “{other}” is not quadratic or pchip")),
        };
    }
    let shut_off = row.a_m.ok_or(".curve: points, or a_m, b and c")?;
    Ok(Curve::Quadratic(Quadratic {
        shut_off: m(shut_off),
        linear: row.b.unwrap_or(0.0),
        square: row.c.unwrap_or(0.0),
    }))
}

fn fluid(row: &FluidRow) -> Result<Medium, String> {
    let said = |why: Unknown| format!(".fluid: {}", why.why);
    match row.kind.as_str() {
        "seawater" => liquids::sea(row.salinity_kg_kg.unwrap_or(0.035)).map_err(said),
        "water" => liquids::fresh().map_err(said),
        other => Err(format!(".fluid.type: “{other}” is not seawater or water")),
    }
}

fn outside(row: &OutsideRow) -> Result<Outside, String> {
    Ok(Outside {
        medium: fluid(&row.fluid)
            .map_err(|why| format!(".outside{why}"))?
            .into(),
        temperature: row.T_C,
        speed: row.speed_m_s,
        length: row.flow_length_m,
        aft: row.x0_m,
        still: row.natural_length_m,
        geometry: match row.natural_geometry.as_str() {
            "horizontal_cylinder" => Geometry::Pipe,
            "vertical_plate" => Geometry::Upright,
            other => {
                return Err(format!(
                    ".outside.natural_geometry: “{other}” is not horizontal_cylinder or vertical_plate"
                ));
            }
        },
    })
}

fn rated(drop: Option<f64>, flow: Option<f64>) -> Rated {
    drop.zip(flow)
}

fn cooler(row: &CoolerRow) -> Result<Cooler, String> {
    Ok(match row {
        CoolerRow::KeelPipe {
            D_i_m,
            D_o_m,
            n_parallel,
            L_each_m,
            k_wall,
            eps_m,
            K_internal,
            R_f_in,
            R_f_out,
            outside_area_fraction,
            conn_m,
            outside,
        } => {
            let count = n_parallel.unwrap_or(1.0);
            Cooler {
                gives: Gives::Sea(Surface {
                    channel: PI / 4.0 * D_i_m * D_i_m,
                    diameter: *D_i_m,
                    count,
                    length: *L_each_m,
                    roughness: eps_m / D_i_m,
                    k: *K_internal,
                    connection: *conn_m,
                    film: Film::Round,
                    inside: count * PI * D_i_m * L_each_m,
                    outside: count * PI * D_o_m * L_each_m * outside_area_fraction.unwrap_or(1.0),
                    wall: (D_o_m / D_i_m).ln() / (2.0 * PI * k_wall * L_each_m * count),
                    dirt_in: *R_f_in,
                    dirt_out: *R_f_out,
                    sea: self::outside(outside)?,
                }),
                rated: None,
            }
        }
        CoolerRow::SkinTank {
            channel_width_m: w,
            channel_depth_m: d,
            channel_length_m: length,
            wall_m,
            k_wall,
            eps_m,
            K_internal,
            R_f_in,
            R_f_out,
            outside,
        } => {
            let diameter = 2.0 * w * d / (w + d);
            let face = w * length;
            Cooler {
                gives: Gives::Sea(Surface {
                    channel: w * d,
                    diameter,
                    count: 1.0,
                    length: *length,
                    roughness: eps_m / diameter,
                    k: *K_internal,
                    connection: None,
                    film: Film::Round,
                    inside: face,
                    outside: face,
                    wall: wall_m / k_wall / face,
                    dirt_in: *R_f_in,
                    dirt_out: *R_f_out,
                    sea: self::outside(outside)?,
                }),
                rated: None,
            }
        }
        CoolerRow::Exchanger {
            arrangement,
            UA_W_K,
            tubes,
            raw,
            dp_ref_Pa,
            Q_ref_m3_s,
        } => {
            let ua = match (UA_W_K, tubes) {
                (Some(ua), _) => Ua::Told(*ua),
                (None, Some(row)) => Ua::Tubes(Tubes {
                    count: row.n,
                    passes: row.passes.unwrap_or(1.0),
                    bore: row.D_i_m,
                    over: row.D_o_m,
                    length: row.L_m,
                    conductivity: row.k_wall,
                    shell: row.h_shell_ref,
                    shell_flow: row.m_shell_ref,
                    shell_power: row.shell_exp,
                    dirt_in: row.R_f_in,
                    dirt_out: row.R_f_out,
                }),
                (None, None) => return Err(": UA_W_K or tubes is needed".into()),
            };
            let how = match arrangement.as_str() {
                "counter" => Arrangement::Counter,
                "parallel" => Arrangement::Parallel,
                "shell_1_2" => Arrangement::Shells(1),
                "shell_2_4" => Arrangement::Shells(2),
                "cross_unmixed" => Arrangement::CrossUnmixed,
                "cross_mixed_max" => Arrangement::CrossLargerMixed,
                "cross_mixed_min" => Arrangement::CrossSmallerMixed,
                other => return Err(format!(".arrangement: “{other}” is not known")),
            };
            let raw = Raw {
                medium: fluid(&raw.fluid)
                    .map_err(|why| format!(".raw{why}"))?
                    .into(),
                flow: raw.m_kg_s,
                temperature: raw.T_C,
            };
            Cooler {
                gives: Gives::Raw(how, ua, raw),
                rated: rated(*dp_ref_Pa, *Q_ref_m3_s),
            }
        }
        CoolerRow::Sink {
            UA_W_K,
            T_C,
            dp_ref_Pa,
            Q_ref_m3_s,
        } => Cooler {
            gives: Gives::Sink {
                ua: *UA_W_K,
                temperature: *T_C,
            },
            rated: rated(*dp_ref_Pa, *Q_ref_m3_s),
        },
    })
}
