//! The exact solution of the Riemann problem of two calorically perfect gases (Toro 2009, chapter 4), as a test tool.

/// Gas at rest or in motion on one side.
#[derive(Debug, Clone, Copy)]
pub struct Gas {
    /// Density.
    pub density: f64,
    /// Velocity, positive to the right.
    pub velocity: f64,
    /// Pressure.
    pub pressure: f64,
    /// Ratio of specific heats.
    pub gamma: f64,
}

/// The solution: states between the two waves.
#[derive(Debug, Clone, Copy)]
pub struct Star {
    left: Gas,
    right: Gas,
    /// Pressure between the waves.
    pub pressure: f64,
    /// Velocity between the waves.
    pub velocity: f64,
}

impl Gas {
    fn sound(&self) -> f64 {
        (self.gamma * self.pressure / self.density).sqrt()
    }

    /// How much faster the gas has become behind a wave to `pressure`.
    fn jump(&self, pressure: f64) -> f64 {
        let g = self.gamma;
        if pressure > self.pressure {
            let a = 2.0 / ((g + 1.0) * self.density);
            let b = (g - 1.0) / (g + 1.0) * self.pressure;
            (pressure - self.pressure) * (a / (pressure + b)).sqrt()
        } else {
            let lower = (pressure / self.pressure).powf(0.5 * (g - 1.0) / g);
            2.0 * self.sound() / (g - 1.0) * (lower - 1.0)
        }
    }

    fn density_at(&self, pressure: f64) -> f64 {
        let (g, ratio) = (self.gamma, pressure / self.pressure);
        let b = (g - 1.0) / (g + 1.0);
        self.density * if ratio > 1.0 { (ratio + b) / (b * ratio + 1.0) } else { ratio.powf(1.0 / g) }
    }

    /// What is seen at a speed of `xi` left of the contact; mirrored for the right side.
    fn sample(&self, star: f64, middle: f64, xi: f64) -> Gas {
        let (g, a) = (self.gamma, self.sound());
        let behind = Gas { density: self.density_at(star), velocity: middle, pressure: star, gamma: g };
        if star > self.pressure {
            let shock =
                self.velocity - a * (0.5 * (g + 1.0) / g * star / self.pressure + 0.5 * (g - 1.0) / g).sqrt();
            return if xi < shock { *self } else { behind };
        }
        if xi < self.velocity - a {
            *self
        } else if xi > middle - behind.sound() {
            behind
        } else {
            let c = 2.0 / (g + 1.0) * (a + 0.5 * (g - 1.0) * (self.velocity - xi));
            let lower = c / a;
            Gas {
                density: self.density * lower.powf(2.0 / (g - 1.0)),
                velocity: xi + c,
                pressure: self.pressure * lower.powf(2.0 * g / (g - 1.0)),
                gamma: g,
            }
        }
    }
}

/// Solves by bisection of the logarithm of pressure, to rounding.
pub fn solve(left: Gas, right: Gas) -> Star {
    let excess = |p: f64| left.jump(p) + right.jump(p) + right.velocity - left.velocity;
    let (mut low, mut high) = (-200.0f64, 200.0f64);
    while high - low > 1e-15 * (1.0 + low.abs()) {
        let middle = 0.5 * (low + high);
        if middle == low || middle == high {
            break;
        }
        if excess(middle.exp()) < 0.0 { low = middle } else { high = middle }
    }
    let pressure = (0.5 * (low + high)).exp();
    let velocity = 0.5 * (left.velocity - left.jump(pressure) + right.velocity + right.jump(pressure));
    Star { left, right, pressure, velocity }
}

impl Star {
    /// Density left of the contact.
    pub fn density_left(&self) -> f64 {
        self.left.density_at(self.pressure)
    }

    /// Density right of the contact.
    pub fn density_right(&self) -> f64 {
        self.right.density_at(self.pressure)
    }

    /// The state at distance over time `xi` from where the two met.
    pub fn at(&self, xi: f64) -> Gas {
        if xi < self.velocity {
            self.left.sample(self.pressure, self.velocity, xi)
        } else {
            let mirrored = Gas { velocity: -self.right.velocity, ..self.right };
            let seen = mirrored.sample(self.pressure, -self.velocity, -xi);
            Gas { velocity: -seen.velocity, ..seen }
        }
    }
}
