//! Our reading of pictures beside exiftool, ImageMagick and vips; damaged, hostile and huge pictures.
//!
//! Needs the Debian packages `libimage-exiftool-perl`, `imagemagick`, `libvips-tools` and `zint`; a missing program
//! fails the test with its name.
#![cfg(test)]

mod bombs;
mod broken;
mod colors;
mod derived;
mod displays;
mod exif;
mod hostile;
mod labels;
mod large;
mod marking;
mod orientation;
mod outside;
mod papers;
mod previews;
mod samples;
mod stripping;
