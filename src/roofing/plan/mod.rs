//! `Site + Handbook -> Plan | Refusal`: the whole pipeline on one screen.

mod types;

pub use types::{
    Caution, EdgeRun, Fault, Finding, FindingKind, Handbook, PlanParts, Refusal, SlopePlan, Unplanned,
};
