//! The store: its contract, kills, damage, full disks, keys and what is kept how long.

#[path = "../attack/mount.rs"]
mod mount;

mod aside;
mod contract;
mod damage;
mod full;
mod keeping;
mod kills;
mod model;
mod privacy;
mod records;
mod rekey;
mod suspects;
