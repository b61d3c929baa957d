//! Weighing against standards and certified data.

mod amended;
mod amended_noise;
mod budget;
mod conditions;
mod creep;
mod empty_pan;
mod limits;
mod properties;
mod rules;
mod scale;
mod statistics;
mod table;
