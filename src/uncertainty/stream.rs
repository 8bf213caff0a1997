//! Random numbers that depend on nothing but the seed, the name of what is
//! drawn, and the number of the draw.
//!
//! ChaCha with eight rounds is a published cipher (Bernstein 2008): its
//! streams cannot change with a release, every name has a stream of its own,
//! and any place in a stream is reached at once. So results do not depend on
//! threads, on blocks, or on what else is drawn.

use chacha20::ChaCha8Rng;
use chacha20::rand_core::{Rng, SeedableRng};

/// Number of the stream of a name: its 64-bit FNV-1a hash.
pub(crate) fn stream_of(name: &str) -> u64 {
    name.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

/// Numbers between 0 and 1, neither of them ever, of draws `first` onward.
pub(crate) fn uniforms(seed: u64, stream: u64, first: u64, out: &mut [f64]) {
    let mut key = [0_u8; 32];
    key[..8].copy_from_slice(&seed.to_le_bytes());
    let mut cipher = ChaCha8Rng::from_seed(key);
    cipher.set_stream(stream);
    cipher.set_word_pos(2 * u128::from(first)); // two words a number
    for slot in out {
        // 52 bits and a half: exact, and never an end.
        *slot = ((cipher.next_u64() >> 12) as f64 + 0.5) * f64::EPSILON;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Key stream of ChaCha8 for a key and nonce of zeros: eSTREAM-style test
    /// vector TC1 of draft-strombergson-chacha-test-vectors-01 (256-bit key).
    #[test]
    fn the_cipher_is_chacha_with_eight_rounds() {
        let mut cipher = ChaCha8Rng::from_seed([0; 32]);
        let mut bytes = [0; 16];
        cipher.fill_bytes(&mut bytes);
        let published = [
            0x3e, 0x00, 0xef, 0x2f, 0x89, 0x5f, 0x40, 0xd6, 0x7f, 0x5b, 0xb8, 0xe8, 0x1f, 0x09,
            0xa5, 0xa1,
        ];
        assert_eq!(bytes, published);
    }

    /// Offsets of FNV-1a, 64 bits: Fowler, Noll, Vo, the published test suite.
    #[test]
    fn names_are_hashed_as_published() {
        assert_eq!(stream_of(""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(stream_of("a"), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(stream_of("foobar"), 0x85944171f73967e8);
    }

    #[test]
    fn any_block_is_a_piece_of_the_whole() {
        let mut whole = [0.0; 1000];
        uniforms(7, 11, 0, &mut whole);
        for (first, length) in [(0, 1), (1, 5), (333, 17), (990, 10)] {
            let mut piece = vec![0.0; length];
            uniforms(7, 11, first as u64, &mut piece);
            assert_eq!(piece, whole[first..first + length]);
        }
        assert!(whole.iter().all(|&u| u > 0.0 && u < 1.0));
        let mut other = [0.0; 1000];
        uniforms(7, 12, 0, &mut other);
        assert_ne!(whole, other);
        uniforms(8, 11, 0, &mut other);
        assert_ne!(whole, other);
    }
}
