//! Points, directions and colours in three numbers. Lengths are centimetres.

use std::ops::{Add, Mul, Neg, Sub};

/// A point, a direction or a linear colour.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct V3 {
    pub x: f32,
    pub y: f32,
    pub z: f32,
}

pub const fn v(x: f32, y: f32, z: f32) -> V3 {
    V3 { x, y, z }
}

/// A colour as a paint shop would name it (sRGB), turned into light.
pub fn rgb(red: u8, green: u8, blue: u8) -> V3 {
    let linear = |value: u8| (f32::from(value) / 255.0).powf(2.2);
    v(linear(red), linear(green), linear(blue))
}

pub const fn grey(value: f32) -> V3 {
    v(value, value, value)
}

impl V3 {
    pub fn dot(self, o: Self) -> f32 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }
    pub fn cross(self, o: Self) -> Self {
        v(self.y * o.z - self.z * o.y, self.z * o.x - self.x * o.z, self.x * o.y - self.y * o.x)
    }
    pub fn length(self) -> f32 {
        self.dot(self).sqrt()
    }
    pub fn unit(self) -> Self {
        self * (1.0 / self.length().max(1e-9))
    }
    /// Component by component: light times colour.
    pub fn times(self, o: Self) -> Self {
        v(self.x * o.x, self.y * o.y, self.z * o.z)
    }
    pub fn map(self, f: impl Fn(f32) -> f32) -> Self {
        v(f(self.x), f(self.y), f(self.z))
    }
    pub fn mix(self, o: Self, share: f32) -> Self {
        self * (1.0 - share) + o * share
    }
    pub fn largest(self) -> f32 {
        self.x.max(self.y).max(self.z)
    }
    pub fn mirror(self, normal: Self) -> Self {
        self - normal * (2.0 * self.dot(normal))
    }
}

impl Add for V3 {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        v(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}
impl Sub for V3 {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        v(self.x - o.x, self.y - o.y, self.z - o.z)
    }
}
impl Mul<f32> for V3 {
    type Output = Self;
    fn mul(self, by: f32) -> Self {
        v(self.x * by, self.y * by, self.z * by)
    }
}
impl Neg for V3 {
    type Output = Self;
    fn neg(self) -> Self {
        self * -1.0
    }
}

/// Place and turn of a thing.
#[derive(Debug, Clone, Copy)]
pub struct Pose {
    pub at: V3,
    right: V3,
    up: V3,
    back: V3,
}

impl Pose {
    pub fn at(x: f32, y: f32, z: f32) -> Self {
        Self { at: v(x, y, z), right: v(1.0, 0.0, 0.0), up: v(0.0, 1.0, 0.0), back: v(0.0, 0.0, 1.0) }
    }
    /// Turned about the vertical, degrees, seen from above counter-clockwise.
    pub fn turned(self, degrees: f32) -> Self {
        self.rotated(degrees, |p, s, c| v(c * p.x + s * p.z, p.y, c * p.z - s * p.x))
    }
    /// Tipped about the left-right axis, degrees; positive brings the top towards the viewer (+z).
    pub fn tipped(self, degrees: f32) -> Self {
        self.rotated(degrees, |p, s, c| v(p.x, c * p.y - s * p.z, c * p.z + s * p.y))
    }
    /// Rolled about the front-back axis, degrees.
    pub fn rolled(self, degrees: f32) -> Self {
        self.rotated(degrees, |p, s, c| v(c * p.x - s * p.y, c * p.y + s * p.x, p.z))
    }
    /// Turns within its own axes, so that a part is turned on the body that it sits on.
    fn rotated(self, degrees: f32, turn: impl Fn(V3, f32, f32) -> V3) -> Self {
        let (s, c) = degrees.to_radians().sin_cos();
        let axis = |x, y, z| self.direction(turn(v(x, y, z), s, c));
        Self { at: self.at, right: axis(1.0, 0.0, 0.0), up: axis(0.0, 1.0, 0.0), back: axis(0.0, 0.0, 1.0) }
    }
    /// A thing placed within this one's own axes.
    pub fn place(&self, x: f32, y: f32, z: f32) -> Self {
        Self { at: self.outside(v(x, y, z)), ..*self }
    }
    pub fn outside(&self, p: V3) -> V3 {
        self.at + self.direction(p)
    }
    pub fn direction(&self, p: V3) -> V3 {
        self.right * p.x + self.up * p.y + self.back * p.z
    }
    pub fn inside(&self, p: V3) -> V3 {
        self.inside_direction(p - self.at)
    }
    pub fn inside_direction(&self, d: V3) -> V3 {
        v(d.dot(self.right), d.dot(self.up), d.dot(self.back))
    }
}
