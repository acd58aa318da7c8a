//! The format `network/1`: SI, temperatures in °C.
#![allow(non_snake_case)]

use std::collections::BTreeMap;

use serde::Deserialize;

/// One case.
#[derive(Debug, Deserialize)]
pub(crate) struct Case {
    pub coolant: Coolant,
    pub nodes: BTreeMap<String, NodeRow>,
    #[serde(default)]
    pub fixed: BTreeMap<String, FixedRow>,
    #[serde(default)]
    pub inflow_m3_s: BTreeMap<String, f64>,
    pub isothermal_C: Option<f64>,
    pub thermostat: Option<StatRow>,
    pub hydrostatic_T_C: Option<f64>,
    /// Read, and without effect: the properties here are those of the liquid at 1 to 3 bar, between which
    /// they differ by less than the tables do.
    #[serde(rename = "property_pressure_Pa_abs")]
    pub _property_pressure: Option<f64>,
    pub branches: Vec<BranchRow>,
}

/// What runs in it.
#[derive(Debug, Deserialize)]
pub(crate) struct Coolant {
    #[serde(rename = "type")]
    pub kind: String,
    pub mass_fraction: Option<f64>,
    pub volume_fraction: Option<f64>,
    pub rho: Option<f64>,
    pub mu: Option<f64>,
    pub cp: Option<f64>,
    pub k: Option<f64>,
}

#[derive(Debug, Deserialize)]
pub(crate) struct NodeRow {
    pub z_m: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct FixedRow {
    pub p_gauge_Pa: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct StatRow {
    pub sense_node: String,
    pub T_open_C: f64,
    pub T_full_C: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct BranchRow {
    pub id: String,
    pub from: String,
    pub to: String,
    #[serde(default)]
    pub closed: bool,
    pub elements: Vec<Element>,
}

/// One thing in a branch.
#[derive(Debug, Deserialize)]
#[serde(tag = "type", rename_all = "snake_case")]
pub(crate) enum Element {
    Pipe {
        D_m: f64,
        L_m: f64,
        eps_m: f64,
        f_darcy: Option<f64>,
        #[serde(default)]
        K: f64,
        #[serde(default)]
        fittings: BTreeMap<String, f64>,
        n: Option<f64>,
    },
    #[serde(rename = "K")]
    K {
        K: f64,
        D_m: f64,
    },
    Fitting {
        kind: String,
        D_m: f64,
        count: Option<f64>,
        r_D: Option<f64>,
    },
    Valve {
        kind: String,
        D_m: f64,
        D_bore_m: Option<f64>,
        angle_deg: Option<f64>,
    },
    Reducer {
        D1_m: f64,
        D2_m: f64,
        angle_deg: f64,
    },
    Component {
        dp_ref_Pa: f64,
        Q_ref_m3_s: f64,
        n: Option<f64>,
        rho_ref: Option<f64>,
        Q_W: Option<f64>,
    },
    Pump {
        curve: CurveRow,
        speed_rpm: f64,
        ref_speed_rpm: f64,
    },
    Thermostat {
        role: String,
        D_m: f64,
        K_open: f64,
        leak: f64,
        closes: Option<bool>,
    },
    Cooler(Box<CoolerRow>),
}

#[derive(Debug, Deserialize)]
pub(crate) struct CurveRow {
    pub points: Option<Vec<[f64; 2]>>,
    pub fit: Option<String>,
    pub a_m: Option<f64>,
    pub b: Option<f64>,
    pub c: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub(crate) enum CoolerRow {
    KeelPipe {
        D_i_m: f64,
        D_o_m: f64,
        n_parallel: Option<f64>,
        L_each_m: f64,
        k_wall: f64,
        eps_m: f64,
        #[serde(default)]
        K_internal: f64,
        #[serde(default)]
        R_f_in: f64,
        #[serde(default)]
        R_f_out: f64,
        outside_area_fraction: Option<f64>,
        conn_m: Option<f64>,
        outside: OutsideRow,
    },
    SkinTank {
        channel_width_m: f64,
        channel_depth_m: f64,
        channel_length_m: f64,
        wall_m: f64,
        k_wall: f64,
        eps_m: f64,
        #[serde(default)]
        K_internal: f64,
        #[serde(default)]
        R_f_in: f64,
        #[serde(default)]
        R_f_out: f64,
        outside: OutsideRow,
    },
    Exchanger {
        arrangement: String,
        UA_W_K: Option<f64>,
        tubes: Option<TubesRow>,
        raw: RawRow,
        dp_ref_Pa: Option<f64>,
        Q_ref_m3_s: Option<f64>,
    },
    Sink {
        UA_W_K: f64,
        T_C: f64,
        dp_ref_Pa: Option<f64>,
        Q_ref_m3_s: Option<f64>,
    },
}

#[derive(Debug, Deserialize)]
pub(crate) struct FluidRow {
    #[serde(rename = "type")]
    pub kind: String,
    pub salinity_kg_kg: Option<f64>,
}

#[derive(Debug, Deserialize)]
pub(crate) struct OutsideRow {
    pub fluid: FluidRow,
    pub flow_length_m: f64,
    #[serde(default)]
    pub x0_m: f64,
    pub natural_length_m: f64,
    pub natural_geometry: String,
    pub speed_m_s: f64,
    pub T_C: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct TubesRow {
    pub n: f64,
    pub passes: Option<f64>,
    pub D_i_m: f64,
    pub D_o_m: f64,
    pub L_m: f64,
    pub k_wall: f64,
    pub h_shell_ref: f64,
    pub m_shell_ref: f64,
    pub shell_exp: f64,
    #[serde(default)]
    pub R_f_in: f64,
    #[serde(default)]
    pub R_f_out: f64,
}

#[derive(Debug, Deserialize)]
pub(crate) struct RawRow {
    pub fluid: FluidRow,
    pub m_kg_s: f64,
    pub T_C: f64,
}
