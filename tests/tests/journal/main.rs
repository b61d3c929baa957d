//! Records on flash: power cuts, damage, capacity, formats.

mod backup;
mod capacity;
mod codec;
mod corruption;
mod lying_flash;
mod open_pairs;
mod power_cuts;
mod power_cuts_scenes;
mod refused;
mod refusing_flash;
mod restore;
mod room;
mod rules;
mod schema;
mod store;
