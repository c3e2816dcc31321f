//! What a healthy valve does, by control logic.
