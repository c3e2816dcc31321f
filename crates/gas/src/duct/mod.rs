//! Flow in one duct: geometry, state and step.
