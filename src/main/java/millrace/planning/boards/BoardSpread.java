// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.TreeSet;
import java.util.stream.Stream;
import millrace.analysis.design.DesignCircuit;
import millrace.analysis.design.DesignPrediction;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.MeasuredSpread;
import millrace.assessment.design.DesignFromDatasheet;
import millrace.datasheet.Datasheet;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import millrace.planning.LimitForecast;
import millrace.time.Seeds;

/**
 * The spread of boards before one of them is measured: drawn boards, each with its value for every
 * limit (methods.md 12). The values of one board are drawn together, so that shared parts correlate
 * its ranges. Immutable.
 */
public final class BoardSpread {
  /** The smallest number of boards of a batch that gives the spread. */
  private static final int FEWEST = 10;

  private static final int DRAWN = 4000;
  private static final double PPM = 1e6;
  private static final Seeds SEEDS = new Seeds(16);

  private final Map<String, double[]> values;
  private final Map<String, String> sources;

  private BoardSpread(Map<String, double[]> values, Map<String, String> sources) {
    this.values = values;
    this.sources = sources;
  }

  /**
   * Computes the spread of boards of a datasheet.
   *
   * @param datasheet the promises for the boards and the parts they are made of
   * @param batch the spread of measured boards; empty where none were measured
   * @param expected the results of a test of a board whose parts are nominal, computed several
   *     times
   * @return the spread, for each limit whose spread is known
   */
  public static BoardSpread of(
      Datasheet datasheet, List<MeasuredSpread> batch, List<List<LimitForecast>> expected) {
    Map<String, double[]> values = new LinkedHashMap<>();
    Map<String, String> sources = new LinkedHashMap<>();
    BatchDraws draws = new BatchDraws();
    Optional<DesignPrediction> design =
        DesignFromDatasheet.of(datasheet).map(circuit -> prediction(circuit, datasheet));
    for (LimitForecast limit : expected.get(0)) {
      Optional<MeasuredSpread> measured =
          batch.stream()
              .filter(m -> isOf(m.distribution(), limit))
              .filter(m -> usual(m.distribution()).size() >= FEWEST)
              .findFirst();
      if (measured.isPresent()) {
        values.put(limit.key(), draws.of(measured.get()));
        sources.put(limit.key(), "boards that were measured");
      } else {
        design
            .flatMap(d -> drawn(d, datasheet, limit.result(), mean(limit, expected)))
            .ifPresent(
                v -> {
                  values.put(limit.key(), v);
                  sources.put(limit.key(), "the parts of the datasheet");
                });
      }
    }
    return new BoardSpread(values, sources);
  }

  private static DesignPrediction prediction(DesignCircuit circuit, Datasheet datasheet) {
    return DesignPrediction.of(circuit, datasheet.coverage(), DRAWN, SEEDS);
  }

  /** A value far from the others is a defect of a single board and no spread: any test finds it. */
  private static List<BatchDistribution.Entry> usual(BatchDistribution distribution) {
    List<Long> apart =
        distribution.statistics().map(BatchDistribution.Statistics::outliers).orElse(List.of());
    return distribution.counting().stream().filter(e -> !apart.contains(e.run().id())).toList();
  }

  private static boolean isOf(BatchDistribution distribution, LimitForecast limit) {
    return distribution.entries().stream()
        .map(BatchDistribution.Entry::result)
        .anyMatch(r -> isOf(r, limit.result()));
  }

  private static boolean isOf(Result measured, Result limited) {
    Judgement limit = limited.judgement().orElseThrow();
    return measured.quantity() == limited.quantity()
        && measured.range().equals(limited.range())
        && measured
            .judgement()
            .filter(j -> j.limit().equals(limit.limit()) && j.when().equals(limit.when()))
            .isPresent();
  }

  /** The mean of the results for a limit; empty where they have no value. */
  private static OptionalDouble mean(LimitForecast limit, List<List<LimitForecast>> expected) {
    return expected.stream()
        .flatMap(List::stream)
        .filter(l -> l.key().equals(limit.key()))
        .flatMap(
            l ->
                l.result().outcome() instanceof ComputationOutcome.Value v
                    ? Stream.of(v.value())
                    : Stream.empty())
        .mapToDouble(Double::doubleValue)
        .average();
  }

  /** The spread from the parts, about the expected value of a board whose parts are nominal. */
  private static Optional<double[]> drawn(
      DesignPrediction design, Datasheet datasheet, Result limited, OptionalDouble mean) {
    String range = limited.range().orElse("");
    return switch (limited.quantity()) {
      case CURRENT, CURRENT_ERROR ->
          design
              .drawn(limited.quantity(), range)
              .map(v -> warmed(v, design, datasheet, limited))
              .map(v -> about(v, mean));
      case LOAD_REGULATION ->
          design
              .drawn(ResultQuantity.OUTPUT_RESISTANCE, range)
              .map(ohm -> each(ohm, r -> -PPM / r / Math.abs(nominalA(datasheet, range))))
              .map(v -> about(v, mean));
      case OUTPUT_CONDUCTANCE ->
          design
              .drawn(ResultQuantity.OUTPUT_RESISTANCE, range)
              .map(ohm -> each(ohm, r -> 1 / r))
              .map(v -> about(v, mean));
      case OUTPUT_RESISTANCE, COMPLIANCE_VOLTAGE -> design.drawn(limited.quantity(), range);
      default -> Optional.empty();
    };
  }

  private static double nominalA(Datasheet datasheet, String range) {
    return datasheet.range(range).orElseThrow().nominalA();
  }

  private interface Change {
    double of(double value);
  }

  private static double[] each(double[] values, Change change) {
    double[] changed = new double[values.length];
    for (int i = 0; i < changed.length; i++) {
      changed[i] = change.of(values[i]);
    }
    return changed;
  }

  /** The tempco also moves a limit that holds at another temperature. */
  private static double[] warmed(
      double[] values, DesignPrediction design, Datasheet datasheet, Result limited) {
    OptionalDouble degC = limited.at().number(ResultConditionKey.TEMPERATURE_DEGC);
    Optional<double[]> perK = design.drawn(ResultQuantity.TEMPCO, limited.range().orElse(""));
    if (degC.isEmpty() || perK.isEmpty()) {
      return values;
    }
    double kelvin = degC.getAsDouble() - datasheet.referenceTemperatureDegC();
    double unit =
        limited.quantity() == ResultQuantity.CURRENT
            ? Math.abs(nominalA(datasheet, limited.range().orElse(""))) / PPM
            : 1;
    double[] warm = new double[values.length];
    for (int i = 0; i < warm.length; i++) {
      warm[i] = values[i] + perK.get()[i] * kelvin * unit;
    }
    return warm;
  }

  /** Moved so that the mean is the expected value where the limit is closest to being exceeded. */
  private static double[] about(double[] values, OptionalDouble expected) {
    double moved = expected.orElse(0) - Arrays.stream(values).average().orElse(0);
    return expected.isEmpty() ? values : each(values, v -> v + moved);
  }

  /**
   * Boards like those of a batch: normally distributed, with the mean of its values and their
   * covariance, widened for the small number of boards, less the noise of their measurement. An
   * error of the bench that is common to all boards is in no scatter, and in the uncertainty.
   */
  private static final class BatchDraws {
    private final SplittableRandom random = SEEDS.stream("boards of a batch");
    private final Map<Long, double[]> weights = new HashMap<>();

    double[] of(MeasuredSpread measured) {
      List<BatchDistribution.Entry> counting = usual(measured.distribution());
      double mean =
          counting.stream().mapToDouble(e -> e.value().orElseThrow()).average().orElseThrow();
      double[] off = counting.stream().mapToDouble(e -> e.value().orElseThrow() - mean).toArray();
      double scale = scale(off, measured.measurementVariance());
      double[] values = new double[DRAWN];
      for (int k = 0; k < off.length; k++) {
        double[] weight = weights.computeIfAbsent(counting.get(k).run().id(), id -> normal());
        for (int i = 0; i < DRAWN; i++) {
          values[i] += off[k] * scale * weight[i];
        }
      }
      return each(values, v -> v + mean);
    }

    /**
     * The factor on the deviations of n values that makes the variance of their weighted sum that
     * of the next board: (s^2 (n - 1)/(n - 3) - noise, 0 at least) + s^2 (n - 1)/(n - 3)/n, the
     * first the boards, the second their unknown mean.
     */
    private static double scale(double[] off, double noise) {
      int n = off.length;
      double squares = Arrays.stream(off).map(v -> v * v).sum();
      double wide = squares / (n - 3);
      return squares > 0 ? Math.sqrt((Math.max(0, wide - noise) + wide / n) / squares) : 0;
    }

    private double[] normal() {
      double[] normal = new double[DRAWN];
      for (int i = 0; i < DRAWN; i++) {
        normal[i] = random.nextGaussian();
      }
      return normal;
    }
  }

  /** The number of boards drawn. */
  int boards() {
    return DRAWN;
  }

  /** The values of a limit, board by board; empty where the spread is not known. */
  Optional<double[]> of(LimitForecast limit) {
    return Optional.ofNullable(values.get(limit.key()));
  }

  /**
   * The sources of the spread.
   *
   * @return each source once, such as {@code the parts of the datasheet}
   */
  public List<String> sources() {
    return new ArrayList<>(new TreeSet<>(sources.values()));
  }
}
