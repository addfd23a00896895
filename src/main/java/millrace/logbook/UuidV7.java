// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Instant;
import java.util.UUID;

/**
 * UUIDs of version 7: 48 bits of milliseconds since 1970, the rest from system entropy (IETF, RFC
 * 9562, 2024, section 5.7). Never from a seed: runs made from one seed are still different runs.
 */
final class UuidV7 {
  private static final long VERSION = 0x7000L;
  private static final long LOW_12_BITS = 0xfffL;

  private UuidV7() {}

  static UUID at(Instant instant) {
    UUID entropy = UUID.randomUUID();
    long millis = Math.max(0, instant.toEpochMilli());
    long high = (millis << 16) | VERSION | (entropy.getMostSignificantBits() & LOW_12_BITS);
    return new UUID(high, entropy.getLeastSignificantBits());
  }
}
