//! placeholder until the firmware lands
