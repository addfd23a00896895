// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;

/**
 * Overlapping Allan deviation at octave-spaced averaging times, interval by noise type (NIST SP
 * 1065 (2008); fractional currents are frequency-type data; methods.md 6.4). Immutable and
 * thread-safe.
 *
 * @param spacingS tau_0, s
 * @param slots how many places the even grid has
 * @param missing how many of them were not read
 * @param levels one per averaging time, rising
 */
public record AllanDeviation(double spacingS, int slots, int missing, List<Level> levels) {
  private static final int LEAST = 8;

  /** Up to which share of a record it is averaged: beyond, too few terms are independent. */
  private static final int SHARE = 4;

  /** Least number of averages to identify a type of noise where none is known yet. */
  private static final int FEW = 30;

  /** Averages that tell a type of noise from the one at the averaging time before. */
  private static final int MANY = 256;

  private static final double LONG_DEAD_TIME = 0.1;
  private static final double MOST_SLOTS_PER_READING = 10;

  /** Copies the list. */
  public AllanDeviation {
    levels = List.copyOf(levels);
  }

  /**
   * The deviation at one averaging time.
   *
   * @param tauS the averaging time, s
   * @param deviationPpm the overlapping Allan deviation, ppm
   * @param degreesOfFreedom equivalent ones of its square, 1 or more
   * @param noise the type of noise that its interval assumes
   * @param terms how many differences it is the mean of
   */
  public record Level(
      double tauS, double deviationPpm, double degreesOfFreedom, NoiseType noise, int terms) {}

  /**
   * The deviations of a record.
   *
   * @param series the record
   * @param baseA what ppm are counted of, A, not 0
   * @return the deviations; without levels where there are fewer than eight readings, all at one
   *     time, or mostly gaps
   */
  public static AllanDeviation of(TimeSeries series, double baseA) {
    double spacing = series.intervalS();
    if (series.size() < LEAST || !(spacing > 0) || sparse(series, spacing)) {
      return new AllanDeviation(spacing, series.size(), 0, List.of());
    }
    EvenTimeGrid grid = EvenTimeGrid.of(series, baseA);
    List<Level> levels = new ArrayList<>();
    NoiseType noise = NoiseType.WHITE;
    for (int m = 1; m <= grid.slots() / SHARE; m *= 2) {
      EvenTimeGrid.Variance variance = grid.allan(m);
      noise = NoiseType.of(grid.averages(m), m == 1 ? FEW : MANY).orElse(noise);
      if (variance.terms() > 0) {
        double full = grid.slots() - 2.0 * m + 1;
        double share = variance.terms() / full;
        double edf = noise.degreesOfFreedom(grid.slots() + 1, m) * share;
        levels.add(
            new Level(
                m * spacing,
                Math.sqrt(variance.ppm2()),
                Math.max(1, edf),
                noise,
                variance.terms()));
      }
    }
    return new AllanDeviation(spacing, grid.slots(), grid.missing(), levels);
  }

  /** Bounds the grid: with nine places in ten empty it is no even record. */
  private static boolean sparse(TimeSeries series, double spacing) {
    return series.durationS() / spacing > MOST_SLOTS_PER_READING * series.size();
  }

  /**
   * The lowest deviation, where flicker noise ends what averaging gains (methods.md 2.1). A record
   * that is too short to tell ends before its white noise is down to that of a mean: it says
   * nothing, unless its noise is slow already.
   *
   * @param meanS over how long the means are taken that it is asked for, s
   * @return the level; empty where none of at least that averaging time is the lowest, and its
   *     noise is not known to be slow
   */
  public Optional<Level> floor(double meanS) {
    return levels.stream()
        .filter(l -> l.deviationPpm() > 0)
        .min(Comparator.comparingDouble(Level::deviationPpm))
        .filter(l -> l.tauS() >= meanS || l.noise().slow());
  }

  /**
   * The results of a record.
   *
   * @param series the record
   * @param question what is asked
   * @return one per averaging time, ppm; or one that says what is missing
   */
  public static List<Result> results(TimeSeries series, TimeSeriesRequest question) {
    AllanDeviation all = of(series, question.baseA());
    if (all.levels().isEmpty()) {
      return List.of(
          ResultBuilder.missing(
              subject(question, ResultConditions.NONE),
              "%s readings, needs at least %s evenly spaced ones".formatted(series.size(), LEAST),
              series.size()));
    }
    List<String> notes = all.notes(question);
    List<Result> results = new ArrayList<>();
    for (Level level : all.levels()) {
      results.add(result(level, question, notes));
    }
    return results;
  }

  private static Subject subject(TimeSeriesRequest question, ResultConditions at) {
    return question.subject(
        ResultQuantity.ALLAN_DEVIATION, at, "overlapping Allan deviation, Methods of Millrace 6.4");
  }

  private static Result result(Level level, TimeSeriesRequest question, List<String> notes) {
    Subject subject =
        subject(question, ResultConditions.NONE.with(ResultConditionKey.TAU_S, level.tauS()));
    List<String> all = new ArrayList<>(notes);
    if (level.deviationPpm() == 0) {
      return ResultBuilder.missing(
          subject,
          "all readings are alike: the deviation is below their resolution",
          level.terms());
    }
    all.add("interval for %s".formatted(level.noise().text()));
    ComputationOutcome.Uncertainty u =
        Noise.ofDeviation(level.deviationPpm(), level.degreesOfFreedom(), question.coverage());
    return ResultBuilder.result(
        subject,
        new ComputationOutcome.Value(level.deviationPpm(), Optional.of(u), level.terms()),
        List.of(),
        all);
  }

  private List<String> notes(TimeSeriesRequest question) {
    List<String> notes = new ArrayList<>();
    if (missing > 0) {
      notes.add(
          "%s of %s readings are missing: averages with less than half of theirs are skipped"
              .formatted(missing, slots));
    }
    if (question.integrationS().isPresent()) {
      double dead = 1 - question.integrationS().getAsDouble() / spacingS;
      if (dead > LONG_DEAD_TIME) {
        notes.add(
            NumberText.format("dead time is %.0f %% of the time between readings", 100 * dead));
      }
    } else {
      notes.add("dead time is not known: the integration time was not given");
    }
    return notes;
  }
}
