// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.List;
import java.util.Optional;
import millrace.calibration.AccuracyStatement;
import millrace.calibration.CertificateCorrectionLine;

/**
 * What the bench file states of an instrument in one role.
 *
 * @param accuracy its statements, one per range or one for all
 * @param corrections from its certificate, by rising reading; may be empty
 * @param box properties of a load; {@link LoadProperties#NONE} in other roles
 * @param allowed the limits of its set points and input
 */
public record RoleFacts(
    List<AccuracyStatement> accuracy,
    List<CertificateCorrectionLine> corrections,
    LoadProperties box,
    InstrumentLimits allowed) {
  /** Copies the lists. */
  public RoleFacts {
    accuracy = List.copyOf(accuracy);
    corrections = List.copyOf(corrections);
  }

  /**
   * The statement for a range.
   *
   * @param fullScale what the range is called by
   * @return its own, else the one for all ranges; empty if neither is there
   */
  public Optional<AccuracyStatement> forRange(double fullScale) {
    Optional<AccuracyStatement> own =
        accuracy.stream()
            .filter(a -> a.fullScale().isPresent())
            .filter(a -> Math.abs(a.fullScale().get() / fullScale - 1) < 1e-6)
            .findFirst();
    return own.or(() -> accuracy.stream().filter(a -> a.fullScale().isEmpty()).findFirst());
  }
}
