//! The equations of an opening for several lanes at once, and their roots.

use crate::duct::{EndState, Vector};

/// Steps in the logarithm of pressure end below this; the error left is about its square.
const CLOSE: f64 = 1e-7;
const MOST_STEPS: usize = 60;
/// The duct's gas.
pub(super) struct Own<V> {
    pub(super) density: V,
    pub(super) velocity_in: V,
    pub(super) pressure: V,
    pub(super) gamma: V,
    pub(super) sound: V,
    /// 1/(gamma - 1), (gamma - 1)/2/gamma, 2 a/(gamma - 1)
    pub(super) inverse: V,
    pub(super) half_power: V,
    pub(super) twice_sound: V,
}

/// Behind the wave at one pressure.
pub(super) struct After<V> {
    pub(super) velocity_in: V,
    pub(super) density: V,
    pub(super) slope: V,
}

impl<V: Vector> Own<V> {
    #[inline(always)]
    pub(super) fn load<const L: usize>(gas: &EndState<L>, at: usize) -> Self {
        let (one, gamma, sound) = (V::of(1.0), V::load(&gas.gamma, at), V::load(&gas.sound, at));
        let inverse = one / (gamma - one);
        Self {
            density: V::load(&gas.density, at),
            velocity_in: V::load(&gas.velocity_in, at),
            pressure: V::load(&gas.pressure, at),
            gamma,
            sound,
            inverse,
            half_power: V::of(0.5) * (gamma - one) / gamma,
            twice_sound: V::of(2.0) * sound * inverse,
        }
    }

    /// As [`Near::behind_log`], given the pressure ratio too.
    #[inline(always)]
    pub(super) fn after(&self, log: V, ratio: V) -> After<V> {
        let (one, g) = (V::of(1.0), self.gamma);
        let lower = (self.half_power * log).exp();
        let b = (g - one) / (g + one);
        let room = ratio + b;
        let root = (V::of(2.0) / ((g + one) * self.density * self.pressure * room)).sqrt();
        let (rise, pressure) = (self.pressure * (ratio - one), self.pressure * ratio);
        // The logarithm's sign is plus where it is a shock.
        let faster = log.plus_or(rise * root, self.twice_sound * (lower - one));
        let bend = one - V::of(0.5) * (ratio - one) / room;
        After {
            velocity_in: self.velocity_in + faster,
            density: self.density * log.plus_or(room / b.fused(ratio, one), ratio / (lower * lower)),
            slope: log.plus_or(pressure * root * bend, self.sound / g * lower),
        }
    }

    /// Logarithm of the pressure that stops the gas over its own.
    #[inline(always)]
    pub(super) fn log_still(&self) -> V {
        let (one, g, faster) = (V::of(1.0), self.gamma, -self.velocity_in);
        let lower = (V::of(0.5) * (g - one) * faster / self.sound + one).most(V::of(1e-30));
        let quarter = V::of(0.25) * (g + one) * faster;
        let root = quarter.fused(quarter, self.sound * self.sound).sqrt();
        let ratio = self.density * faster * (quarter + root) / self.pressure + one;
        let power = V::of(2.0) * g * self.inverse;
        faster.plus_or(ratio, lower).ln() * faster.plus_or(one, power)
    }
}

/// What a root is sought of: value and slope. Not a closure: those are not certain to be inlined, and code outside the
/// functions compiled for the instruction set is slow.
pub(super) trait Miss<V> {
    fn at(&self, log: V) -> (V, V);
}

/// Roots between two bounds by Newton steps that stay between them; `rising` as in [`super::root::newton`].
#[inline(always)]
pub(super) fn newton<V: Vector, M: Miss<V>>(f: &M, low: V, high: V, start: V, rising: bool) -> V {
    let (half, close) = (V::of(0.5), V::of(CLOSE));
    let (mut low, mut high, mut x) = (low, high, start);
    let mut open = V::of(1.0);
    for _ in 0..MOST_STEPS {
        let (value, slope) = f.at(x);
        let above = if rising { -value } else { value };
        high = above.plus_or(high, x);
        low = above.plus_or(x, low);
        let step = value / slope;
        let next = x - step;
        let within = (next - low).least(high - next);
        let moved = within.plus_or(next, half * (low + high));
        x = open.plus_or(moved, x);
        // Minus once a lane is done.
        let still = (step.abs() - close).most(-within);
        let narrow = high - low - V::of(1e-14);
        open = open.least(still.least(narrow));
        if open.all_minus() {
            break;
        }
    }
    x
}

/// Flow out through a share below 1 that is not choked, by the log of the pressure at the end over the duct's own.
pub(super) struct OutNarrow<'a, V> {
    pub(super) own: &'a Own<V>,
    low: V,
    square_share: V,
    power: V,
    thin_power: V,
    per_density: V,
}

impl<'a, V: Vector> OutNarrow<'a, V> {
    #[inline(always)]
    pub(super) fn new(own: &'a Own<V>, low: V, share: V) -> Self {
        let g = own.gamma;
        Self {
            own,
            low,
            square_share: share * share,
            power: (g - V::of(1.0)) / g,
            thin_power: V::of(2.0) / g,
            per_density: g * own.pressure,
        }
    }

    /// Square of the speed of sound in the throat less that of the flow there: below zero the throat is choked, and what
    /// was found holds no more.
    #[inline(always)]
    pub(super) fn slower_than_sound(&self, after: &After<V>, log: V, ratio: V) -> V {
        let sound2 = self.per_density * ratio / after.density;
        let colder = (self.power * (self.low - log)).exp();
        let drive = V::of(2.0) * self.own.inverse * sound2 * (V::of(1.0) - colder);
        sound2 * colder - drive - after.velocity_in * after.velocity_in
    }
}

impl<V: Vector> Miss<V> for OutNarrow<'_, V> {
    #[inline(always)]
    fn at(&self, log: V) -> (V, V) {
        let (one, two) = (V::of(1.0), V::of(2.0));
        let Self { own, low, square_share, power, thin_power, per_density } = *self;
        let ratio = log.exp();
        let after = own.after(log, ratio);
        let sound2 = per_density * ratio / after.density;
        let colder = (power * (low - log)).exp();
        let thinner = square_share * (thin_power * (low - log)).exp();
        let drive = two * own.inverse * sound2 * (one - colder);
        let square = after.velocity_in * after.velocity_in;
        let value = square * (one - thinner) - thinner * drive;
        let thinner_slope = -(thin_power * thinner);
        let drive_slope = power * drive + thin_power * sound2 * colder;
        let slope = two * after.velocity_in * after.slope * (one - thinner)
            - square * thinner_slope
            - thinner_slope * drive
            - thinner * drive_slope;
        (value, slope)
    }
}

/// Flow into the duct, by the log of the pressure at the end over the outside's.
pub(super) struct Into<'a, V> {
    pub(super) own: &'a Own<V>,
    /// Outside pressure over the duct's own, and its log.
    pub(super) outer_ratio: V,
    pub(super) own_log: V,
    pub(super) p0: V,
    pub(super) r: V,
    pub(super) twice_t0: V,
    pub(super) kappa: V,
    pub(super) per_gamma: V,
    pub(super) flow: V,
    pub(super) critical: V,
    pub(super) choked_mass: V,
    pub(super) by_energy: V,
}

/// A jet: mass flux, velocity in the duct, the root in it, slope of the mass flux over itself.
pub(super) struct Jet<V> {
    pub(super) mass: V,
    pub(super) velocity: V,
    pub(super) root: V,
    pub(super) slope: V,
}

impl<V: Vector> Into<'_, V> {
    #[inline(always)]
    pub(super) fn jet(&self, log: V, ratio: V) -> Jet<V> {
        let (one, half) = (V::of(1.0), V::of(0.5));
        let colder = (self.kappa * log).exp();
        let fall = (one - colder).most(V::of(1e-300));
        let unchoked = log - self.critical;
        let mass = unchoked.plus_or(self.flow * ratio / colder * fall.sqrt(), self.choked_mass);
        let slope = unchoked.plus_or(self.per_gamma - half * self.kappa * colder / fall, V::of(0.0));
        let by_kelvin = mass * self.r / (self.p0 * ratio);
        let root = (self.by_energy * by_kelvin).fused(by_kelvin, one).sqrt();
        Jet { mass, velocity: self.twice_t0 * by_kelvin / (one + root), root, slope }
    }
}

impl<V: Vector> Miss<V> for Into<'_, V> {
    #[inline(always)]
    fn at(&self, log: V) -> (V, V) {
        let (one, two) = (V::of(1.0), V::of(2.0));
        let ratio = log.exp();
        let Jet { velocity, root, slope, .. } = self.jet(log, ratio);
        let wave = self.own.after(log + self.own_log, ratio * self.outer_ratio);
        let velocity_slope = velocity * velocity * (slope - one) / root;
        let size = wave.velocity_in.abs();
        (size * wave.velocity_in - velocity * velocity, two * (size * wave.slope - velocity_slope))
    }
}
