//! What is due: cleaning and cable checks by hours, distance, season and use.
