// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import millrace.bench.BenchFile;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RoleName;

/**
 * How much the readings of a meter are expected to scatter: as those of an earlier run did, else as
 * the bench file states, else by the steps that the meter shows. Immutable, thread-safe.
 *
 * @param file states the noise of meters
 * @param earlier what an earlier run tells
 */
record ExpectedScatter(BenchFile file, Earlier earlier) {
  /**
   * The meter's own noise; that of the unit and the rounding to steps come on top.
   *
   * @param role which meter
   * @param range that it is on
   * @param shown the range as the meter reads it back
   * @param cycles line cycles of a reading, above 0
   * @return standard deviation of one reading, A or V
   */
  double ofReading(RoleName role, MeterRange range, String shown, double cycles) {
    double ofOneCycle =
        earlier
            .noiseOf(role.signal().orElseThrow(), shown)
            .orElseGet(() -> MeterNoise.ofOneCycle(file, role, range));
    return ofOneCycle / Math.sqrt(cycles);
  }
}
