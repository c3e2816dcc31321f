//! Coefficients of the NASA polynomials with seven coefficients, and molar masses: data only.
//!
//! Source: McBride, B. J., Gordon, S. and Reno, M. A.: Coefficients for Calculating Thermodynamic and Transport
//! Properties of Individual Species, NASA Technical Memorandum 4513, 1993, as carried by the file `nasa_gas.yaml` of
//! a general-purpose thermodynamics library (read there, not in the report). Two ranges, 200 to 1000 K and 1000 to
//! 6000 K. The words behind each species say from which collection its polynomial was fitted, by the report's own key.
//!
//! cp/R = a1 + a2 T + a3 T² + a4 T³ + a5 T⁴; h/(R T) = a1 + a2 T/2 + ... + a5 T⁴/5 + a6/T;
//! s/R = a1 ln T + a2 T + a3 T²/2 + a4 T³/3 + a5 T⁴/4 + a7, T in K, s at 1 bar (the report's standard pressure).

use super::species::Nasa7;

/// N2, fitted from TPIS78.
pub(super) const NITROGEN: Nasa7 = Nasa7 {
    molar_mass_kg_mol: 0.028014,
    atoms: [0, 0, 0, 2, 0],
    low: [
        3.53100528,
        -0.000123660987,
        -5.02999437e-07,
        2.43530612e-09,
        -1.40881235e-12,
        -1046.97628,
        2.96747468,
    ],
    high: [
        2.95257626,
        0.00139690057,
        -4.92631691e-07,
        7.86010367e-11,
        -4.60755321e-15,
        -923.948645,
        5.87189252,
    ],
};

/// O2, fitted from TPIS89.
pub(super) const OXYGEN: Nasa7 = Nasa7 {
    molar_mass_kg_mol: 0.031998,
    atoms: [0, 0, 2, 0, 0],
    low: [3.78245636, -0.00299673415, 9.847302e-06, -9.68129508e-09, 3.24372836e-12, -1063.94356, 3.65767573],
    high: [
        3.66096083,
        0.000656365523,
        -1.41149485e-07,
        2.05797658e-11,
        -1.29913248e-15,
        -1215.97725,
        3.41536184,
    ],
};

/// Ar, fitted from L 6/88.
pub(super) const ARGON: Nasa7 = Nasa7 {
    molar_mass_kg_mol: 0.03995,
    atoms: [0, 0, 0, 0, 1],
    low: [2.5, 0.0, 0.0, 0.0, 0.0, -745.375, 4.37967491],
    high: [2.5, 0.0, 0.0, 0.0, 0.0, -745.375, 4.37967491],
};

/// CO2, fitted from L 7/88.
pub(super) const CARBON_DIOXIDE: Nasa7 = Nasa7 {
    molar_mass_kg_mol: 0.044009,
    atoms: [1, 0, 2, 0, 0],
    low: [
        2.35677352,
        0.00898459677,
        -7.12356269e-06,
        2.45919022e-09,
        -1.43699548e-13,
        -48371.9697,
        9.90105222,
    ],
    high: [
        4.63659493,
        0.00274131991,
        -9.95828531e-07,
        1.60373011e-10,
        -9.16103468e-15,
        -49024.9341,
        -1.93534855,
    ],
};

/// CO, fitted from TPIS79.
pub(super) const CARBON_MONOXIDE: Nasa7 = Nasa7 {
    molar_mass_kg_mol: 0.02801,
    atoms: [1, 0, 1, 0, 0],
    low: [
        3.57953347,
        -0.00061035368,
        1.01681433e-06,
        9.07005884e-10,
        -9.04424499e-13,
        -14344.086,
        3.50840928,
    ],
    high: [
        3.04848583,
        0.00135172818,
        -4.85794075e-07,
        7.88536486e-11,
        -4.69807489e-15,
        -14266.1171,
        6.0170979,
    ],
};

/// H2O, fitted from L 8/89.
pub(super) const WATER: Nasa7 = Nasa7 {
    molar_mass_kg_mol: 0.018015,
    atoms: [0, 2, 1, 0, 0],
    low: [
        4.19864056,
        -0.0020364341,
        6.52040211e-06,
        -5.48797062e-09,
        1.77197817e-12,
        -30293.7267,
        -0.849032208,
    ],
    high: [
        2.67703787,
        0.00297318329,
        -7.7376969e-07,
        9.44336689e-11,
        -4.26900959e-15,
        -29885.8938,
        6.88255571,
    ],
};

/// H2, fitted from TPIS78.
pub(super) const HYDROGEN: Nasa7 = Nasa7 {
    molar_mass_kg_mol: 0.002016,
    atoms: [0, 2, 0, 0, 0],
    low: [
        2.34433112,
        0.00798052075,
        -1.9478151e-05,
        2.01572094e-08,
        -7.37611761e-12,
        -917.935173,
        0.683010238,
    ],
    high: [
        2.93286579,
        0.000826607967,
        -1.46402335e-07,
        1.54100359e-11,
        -6.88804432e-16,
        -813.065597,
        -1.02432887,
    ],
};

/// OH, fitted from TPIS78.
pub(super) const HYDROXYL: Nasa7 = Nasa7 {
    molar_mass_kg_mol: 0.017007,
    atoms: [0, 1, 1, 0, 0],
    low: [
        3.99201543,
        -0.00240131752,
        4.61793841e-06,
        -3.88113333e-09,
        1.3641147e-12,
        3615.08056,
        -0.103925458,
    ],
    high: [
        2.83864607,
        0.00110725586,
        -2.93914978e-07,
        4.20524247e-11,
        -2.42169092e-15,
        3943.95852,
        5.84452662,
    ],
};

/// NO, fitted from TPIS89.
pub(super) const NITRIC_OXIDE: Nasa7 = Nasa7 {
    molar_mass_kg_mol: 0.030006,
    atoms: [0, 0, 1, 1, 0],
    low: [
        4.21859896,
        -0.00463988124,
        1.10443049e-05,
        -9.34055507e-09,
        2.80554874e-12,
        9845.09964,
        2.28061001,
    ],
    high: [
        3.26071234,
        0.00119101135,
        -4.29122646e-07,
        6.94481463e-11,
        -4.03295681e-15,
        9921.43132,
        6.36900518,
    ],
};

/// H, fitted from L 5/93.
pub(super) const HYDROGEN_ATOM: Nasa7 = Nasa7 {
    molar_mass_kg_mol: 0.001008,
    atoms: [0, 1, 0, 0, 0],
    low: [2.5, 0.0, 0.0, 0.0, 0.0, 25473.6599, -0.446682853],
    high: [
        2.50000286,
        -5.65334214e-09,
        3.63251723e-12,
        -9.1994972e-16,
        7.95260746e-20,
        25473.6589,
        -0.446698494,
    ],
};

/// O, fitted from L 1/90.
pub(super) const OXYGEN_ATOM: Nasa7 = Nasa7 {
    molar_mass_kg_mol: 0.015999,
    atoms: [0, 0, 1, 0, 0],
    low: [3.1682671, -0.00327931884, 6.64306396e-06, -6.12806624e-09, 2.11265971e-12, 29122.2592, 2.05193346],
    high: [
        2.54363697,
        -2.73162486e-05,
        -4.1902952e-09,
        4.95481845e-12,
        -4.79553694e-16,
        29226.012,
        4.92229457,
    ],
};

/// Iso-octane vapour (2,2,4-trimethylpentane), fitted from X 4/85.
pub(super) const ISO_OCTANE: Nasa7 = Nasa7 {
    molar_mass_kg_mol: 0.114232,
    atoms: [8, 18, 0, 0, 0],
    low: [0.815737338, 0.0732643959, 1.78300688e-05, -6.9358962e-08, 3.21629382e-11, -30477.2862, 24.1509994],
    high: [
        15.9899273,
        0.055318479,
        -1.95267072e-05,
        3.11779172e-09,
        -1.85312577e-13,
        -35875.7973,
        -60.1161414,
    ],
};
