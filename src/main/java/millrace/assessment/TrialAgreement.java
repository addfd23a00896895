// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.List;
import java.util.Optional;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.quantity.NumberText;

/**
 * How many results agree with their Monte Carlo trials (JCGM 101:2008, clause 8; methods.md 2.5).
 *
 * @param results how many have an interval
 * @param agree with whose interval the trials agree, or whose enclosure holds them
 * @param disagree whose trials have other ends, or reach beyond the enclosure
 * @param little how many of those have ends that differ by less than a tenth of U
 * @param undecided of which so many trials do not tell
 */
public record TrialAgreement(long results, long agree, long disagree, long little, long undecided) {
  static final String HEAD = "Monte Carlo, ";
  static final String NO_TRIALS = "no trials: ";
  static final String AGREES = "it agrees with the first-order interval";
  static final String ENCLOSES = "the stated interval encloses it";
  static final String DISAGREE = "the two disagree";
  static final String LITTLE = "the two disagree by less than a tenth of U";
  static final String BEYOND = "it reaches beyond the stated enclosure";
  static final String UNDECIDED = "which so many trials do not tell";

  /**
   * Counts results by their notes on trials.
   *
   * @param results with their notes
   * @return the count; empty if there were no trials
   */
  public static Optional<TrialAgreement> of(List<Result> results) {
    TrialAgreement found =
        new TrialAgreement(
            results.stream().filter(TrialAgreement::hasInterval).count(),
            saying(results, AGREES) + saying(results, ENCLOSES),
            saying(results, DISAGREE) + saying(results, BEYOND),
            saying(results, LITTLE),
            saying(results, UNDECIDED));
    return found.tried() == 0 ? Optional.empty() : Optional.of(found);
  }

  /** Whether a result has an interval, which trials can be held against. */
  static boolean hasInterval(Result result) {
    return result.outcome() instanceof ComputationOutcome.Value value
        && value.uncertainty().isPresent();
  }

  private static long saying(List<Result> results, String what) {
    return results.stream()
        .filter(r -> r.notes().stream().anyMatch(n -> n.startsWith(HEAD) && n.contains(what)))
        .count();
  }

  private long tried() {
    return agree + disagree + undecided;
  }

  /**
   * Of how many results with an interval there were no trials.
   *
   * @return 0 or more
   */
  public long withoutTrials() {
    return Math.max(0, results - tried());
  }

  /**
   * The count in words.
   *
   * @return one sentence
   */
  public String inOneLine() {
    return "Monte Carlo (JCGM 101, clause 8): %s of %s with an interval agree with their trials; %s %s%s; of %s so many trials do not tell; %s had no trials"
        .formatted(
            agree,
            NumberText.counted(results, "result"),
            disagree,
            disagree == 1 ? "disagrees, and says by how much" : "disagree, and say by how much",
            little == 0 ? "" : ", %s of them by less than a tenth of U".formatted(little),
            undecided,
            withoutTrials());
  }
}
