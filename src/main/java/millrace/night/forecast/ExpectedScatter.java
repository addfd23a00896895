// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import millrace.bench.BenchFile;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RoleName;

/**
 * The expected scatter of the readings of a meter: that of an earlier run, else the value in the
 * bench file, else a value from the resolution of the meter. Immutable, thread-safe.
 *
 * @param file the bench file; it states the noise of meters
 * @param earlier the data of an earlier run
 */
record ExpectedScatter(BenchFile file, Earlier earlier) {
  /**
   * The meter's own noise, without the noise of the unit and the rounding to steps.
   *
   * @param role the role of the meter
   * @param range its range
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
