//! Our reading of pictures beside exiftool, ImageMagick and vips; damaged, hostile and huge pictures.
//!
//! Needs the Debian packages `libimage-exiftool-perl`, `imagemagick` and `libvips-tools`; a missing program
//! fails the test with its name.
#![cfg(test)]

mod broken;
mod displays;
mod exif;
mod hostile;
mod large;
mod marking;
mod orientation;
mod outside;
mod previews;
mod samples;
mod stripping;
