// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;

/**
 * What is asked of a record.
 *
 * @param range the range
 * @param baseA what ppm are counted of, A, not 0
 * @param baseName its name, such as I_N
 * @param integrationS how long the meter integrates for one reading, s, above 0; empty if unknown
 * @param floorPpm rms noise of the bench itself in the same bandwidth, ppm; empty if not measured
 * @param coverage probability of intervals
 */
public record TimeSeriesRequest(
    String range,
    double baseA,
    String baseName,
    OptionalDouble integrationS,
    OptionalDouble floorPpm,
    double coverage) {

  /** Checks the base, the integration time and the floor. */
  public TimeSeriesRequest {
    if (baseA == 0 || !Double.isFinite(baseA)) {
      throw new IllegalArgumentException("ppm of " + baseA + " A; expected finite and not 0");
    }
    if (!(integrationS.orElse(1) > 0) || !(floorPpm.orElse(0) >= 0)) {
      throw new IllegalArgumentException(
          "integration time %s s and floor %s ppm; expected above 0, and 0 or more"
              .formatted(integrationS, floorPpm));
    }
  }

  Subject subject(ResultQuantity quantity, ResultConditions at, String method) {
    return new Subject(quantity, Optional.of(range), at, Optional.of(baseName), method, coverage);
  }
}
