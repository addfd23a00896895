// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;

/**
 * One judging of a run. The results of judgings on different bases are all kept; a judging on the
 * same basis replaces the earlier one.
 *
 * @param basis what the results rest on, such as a hash over file hashes, version and remarks
 * @param madeAt wall clock
 * @param millrace the version that computed
 * @param datasheetSha256 the datasheet, a file that the logbook keeps
 * @param referenceTemperatureDegC T_ref, degC
 * @param otherBenches bench files or single instruments used instead of the bench file of the run,
 *     in their order; empty if that one was used
 * @param typeRun the run whose coefficients stand in for those that this run did not measure; empty
 *     if none
 * @param bin the first bin of the datasheet that takes the measured values; empty if none
 * @param reason why the run was judged (again), in words
 */
public record RunEvaluation(
    String basis,
    Instant madeAt,
    String millrace,
    Optional<String> datasheetSha256,
    OptionalDouble referenceTemperatureDegC,
    List<OtherBench> otherBenches,
    Optional<UUID> typeRun,
    Optional<String> bin,
    String reason) {
  /** Copies the list. */
  public RunEvaluation {
    otherBenches = List.copyOf(otherBenches);
  }

  /**
   * A later bench file, such as one with a new certificate.
   *
   * @param sha256 the file, which the logbook keeps
   * @param instrument the one instrument that was taken from it; empty for all of it
   */
  public record OtherBench(String sha256, Optional<String> instrument) {}
}
