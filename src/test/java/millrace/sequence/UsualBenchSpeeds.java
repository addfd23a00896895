// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.OptionalDouble;
import millrace.sequence.BenchSpeeds.ReadingScatter;

/** A bench of whose readings and cable nothing is known. */
public final class UsualBenchSpeeds {
  private UsualBenchSpeeds() {}

  /** With the fastest ramp of its chamber, K/s. */
  public static BenchSpeeds of(double lineHz, double mostKPerS) {
    ReadingScatter unknown =
        new ReadingScatter() {
          @Override
          public OptionalDouble ofMeterA(double nominalA, double lineCycles) {
            return OptionalDouble.empty();
          }

          @Override
          public double ofUnit(String range, double seconds) {
            return 0;
          }
        };
    return new BenchSpeeds(lineHz, mostKPerS, 0.01, unknown, ohm -> 0, OptionalDouble.empty());
  }
}
