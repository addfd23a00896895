// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToIntFunction;
import millrace.evidence.Limit;
import org.apache.commons.math3.distribution.FDistribution;

/**
 * Crossed gauge study by analysis of variance: every unit measured equally often by every operator
 * or on every bench (Measurement Systems Analysis reference manual, 4th edition, 2010, from memory;
 * methods.md 8). The interaction is pooled with the repeatability where it is not significant at 25
 * %; components below zero count as zero.
 *
 * @param units effect of the unit
 * @param operators effect of the operator or bench
 * @param interaction of both
 * @param repeatability what is left
 * @param interactionProbability p-value of the interaction
 * @param pooled true where the interaction was pooled
 * @param components variances
 */
public record GaugeStudy(
    Effect units,
    Effect operators,
    Effect interaction,
    Effect repeatability,
    double interactionProbability,
    boolean pooled,
    Components components) {
  /** Above this probability the interaction counts as chance. */
  public static final double POOLING = 0.25;

  /** Study widths are counted in this many standard deviations. */
  private static final double STUDY_WIDTH = 6;

  /**
   * One measurement.
   *
   * @param unit which unit
   * @param operator who, or on which bench
   * @param value the result
   */
  public record Trial(String unit, String operator, double value) {}

  /**
   * One row of the table.
   *
   * @param degreesOfFreedom how many
   * @param squares sum of squares, in the unit of the values squared
   */
  public record Effect(int degreesOfFreedom, double squares) {
    /**
     * The mean square.
     *
     * @return squares over degrees of freedom
     */
    public double meanSquare() {
      return squares / degreesOfFreedom;
    }

    Effect with(Effect other) {
      return new Effect(degreesOfFreedom + other.degreesOfFreedom, squares + other.squares);
    }
  }

  /**
   * Variances, in the unit of the values squared, none below zero.
   *
   * @param repeatability of one operator with one unit
   * @param operator between operators
   * @param interaction of operator and unit
   * @param unit between units
   */
  public record Components(double repeatability, double operator, double interaction, double unit) {
    private static final Components NONE = new Components(0, 0, 0, 0);

    /**
     * Of the whole measurement.
     *
     * @return repeatability and reproducibility together
     */
    public double gauge() {
      return repeatability + operator + interaction;
    }

    /** Total variance. @return gauge and units together */
    public double total() {
      return gauge() + unit;
    }
  }

  /**
   * The study of trials.
   *
   * @param trials every unit with every operator equally often: at least 2 of each, 2 times
   * @return the study
   * @throws IllegalArgumentException if the trials are not crossed and balanced
   */
  public static GaugeStudy of(List<Trial> trials) {
    double[][][] cells = cells(trials);
    int p = cells.length;
    int o = cells[0].length;
    int r = cells[0][0].length;
    double grand = mean(all(cells));
    double unitSquares = 0;
    for (double[][] unit : cells) {
      unitSquares += square(mean(flat(unit)) - grand) * o * r;
    }
    double operatorSquares = 0;
    for (int j = 0; j < o; j++) {
      int column = j;
      double[] his = Arrays.stream(cells).flatMapToDouble(u -> Arrays.stream(u[column])).toArray();
      operatorSquares += square(mean(his) - grand) * p * r;
    }
    double cellSquares = 0;
    double within = 0;
    for (double[][] unit : cells) {
      for (double[] cell : unit) {
        double m = mean(cell);
        cellSquares += square(m - grand) * r;
        within += Arrays.stream(cell).map(v -> square(v - m)).sum();
      }
    }
    double both = Math.max(0, cellSquares - unitSquares - operatorSquares);
    return judged(
        new Effect(p - 1, unitSquares),
        new Effect(o - 1, operatorSquares),
        new Effect((p - 1) * (o - 1), both),
        new Effect(p * o * (r - 1), within));
  }

  private static GaugeStudy judged(Effect units, Effect operators, Effect both, Effect within) {
    double probability =
        within.squares() > 0
            ? 1
                - new FDistribution(null, both.degreesOfFreedom(), within.degreesOfFreedom())
                    .cumulativeProbability(both.meanSquare() / within.meanSquare())
            : 0;
    boolean pooled = probability > POOLING;
    GaugeStudy study =
        new GaugeStudy(units, operators, both, within, probability, pooled, Components.NONE);
    double rest = within.with(both).meanSquare();
    return study.with(
        study.components(
            units.meanSquare(),
            operators.meanSquare(),
            pooled ? rest : both.meanSquare(),
            pooled ? rest : within.meanSquare()));
  }

  private GaugeStudy with(Components found) {
    return new GaugeStudy(
        units, operators, interaction, repeatability, interactionProbability, pooled, found);
  }

  /** Variances from the mean squares; where the interaction is pooled the last two are one. */
  Components components(double unit, double operator, double both, double within) {
    int p = units.degreesOfFreedom() + 1;
    int o = operators.degreesOfFreedom() + 1;
    int r = repeatability.degreesOfFreedom() / (p * o) + 1;
    return new Components(
        within,
        Math.max(0, (operator - both) / (p * r)),
        Math.max(0, (both - within) / r),
        Math.max(0, (unit - both) / (o * r)));
  }

  private static double[][][] cells(List<Trial> trials) {
    List<String> units = trials.stream().map(Trial::unit).distinct().toList();
    List<String> operators = trials.stream().map(Trial::operator).distinct().toList();
    int cells = units.size() * operators.size();
    int r = cells == 0 ? 0 : trials.size() / cells;
    double[][][] values = new double[units.size()][operators.size()][r];
    int[][] filled = new int[units.size()][operators.size()];
    ToIntFunction<Trial> unit = t -> units.indexOf(t.unit());
    boolean balanced =
        units.size() > 1 && operators.size() > 1 && r > 1 && trials.size() == cells * r;
    for (Trial t : trials) {
      int i = unit.applyAsInt(t);
      int j = operators.indexOf(t.operator());
      balanced &= filled[i][j] < r;
      if (balanced) {
        values[i][j][filled[i][j]++] = t.value();
      }
    }
    if (!balanced) {
      throw new IllegalArgumentException(
          "%s trials of %s units by %s operators; expected each with each, equally often and at"
                  .formatted(trials.size(), units.size(), operators.size())
              + " least twice");
    }
    return values;
  }

  private static double[] flat(double[][] values) {
    return Arrays.stream(values).flatMapToDouble(Arrays::stream).toArray();
  }

  private static double[] all(double[][][] values) {
    return Arrays.stream(values).flatMapToDouble(u -> Arrays.stream(flat(u))).toArray();
  }

  private static double mean(double[] values) {
    return BatchMeanAndSpread.of(values).mean();
  }

  private static double square(double v) {
    return v * v;
  }

  /**
   * Why the study says nothing about the bench.
   *
   * @return the reason, to follow 'because'; empty if the study is usable
   */
  public Optional<String> tellsNothing() {
    if (components.total() == 0) {
      return Optional.of("nothing varies in it: all its values are the same");
    } else if (components.gauge() == 0) {
      return Optional.of("repeated measurements agree to the last digit, which no bench does");
    }
    return distinctCategories().orElse(0) < 1
        ? Optional.of("its units differ by less than they scatter on the bench (0 categories)")
        : Optional.empty();
  }

  /**
   * Share of the study's width that the measurement takes.
   *
   * @return standard deviation of the gauge over that of everything, a ratio; 0 if nothing varies
   */
  public double ofStudy() {
    double total = components.total();
    return total > 0 ? Math.sqrt(components.gauge() / total) : 0;
  }

  /**
   * Share of the tolerance that the measurement takes: 6 standard deviations of the gauge over T_U
   * - T_L.
   *
   * @param limit the limit
   * @return a ratio; empty for a one-sided limit
   */
  public OptionalDouble ofTolerance(Limit limit) {
    return limit.twoSided()
        ? OptionalDouble.of(
            STUDY_WIDTH
                * Math.sqrt(components.gauge())
                / (limit.upper().getAsDouble() - limit.lower().getAsDouble()))
        : OptionalDouble.empty();
  }

  /**
   * Number of distinct categories: the whole part of sqrt(2 unit/gauge variance).
   *
   * @return 0 or more; empty if the gauge does not vary at all
   */
  public OptionalDouble distinctCategories() {
    return components.gauge() > 0
        ? OptionalDouble.of(Math.floor(Math.sqrt(2 * components.unit() / components.gauge())))
        : OptionalDouble.empty();
  }
}
