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
 * How boards spread, before one of them is measured: drawn boards, each with the value that every
 * limit would find (methods.md 12). Values of one board are drawn together, so that what its ranges
 * share correlates them. Immutable.
 */
public final class BoardSpread {
  /** So many boards of a batch tell how boards spread. */
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
   * How boards of a datasheet spread.
   *
   * @param datasheet what they promise and what they are made of
   * @param batch how boards that were measured lie; empty where none were
   * @param expected what a test finds of a board as it is meant to be, computed several times
   * @return the spread, for as many of the limits as anything tells it
   */
  public static BoardSpread of(
      Datasheet datasheet, List<BatchDistribution> batch, List<List<LimitForecast>> expected) {
    Map<String, double[]> values = new LinkedHashMap<>();
    Map<String, String> sources = new LinkedHashMap<>();
    BatchDraws draws = new BatchDraws();
    Optional<DesignPrediction> design =
        DesignFromDatasheet.of(datasheet).map(circuit -> prediction(circuit, datasheet));
    for (LimitForecast limit : expected.get(0)) {
      Optional<BatchDistribution> measured =
          batch.stream().filter(d -> isOf(d, limit) && usual(d).size() >= FEWEST).findFirst();
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

  /** Values that lie apart are defects of single boards, and no spread: any test finds them. */
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

  /** The mean of what is found of a limit; empty where that is no value. */
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

  /** What the parts give, about the value that is expected of a board as it is meant to be. */
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

  /** A limit that reaches to another temperature is also met or broken by the tempco. */
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

  /** Moved so that their mean is what is expected where the limit is worst kept. */
  private static double[] about(double[] values, OptionalDouble expected) {
    double moved = expected.orElse(0) - Arrays.stream(values).average().orElse(0);
    return expected.isEmpty() ? values : each(values, v -> v + moved);
  }

  /**
   * Boards like those of a batch: normal, with the mean and the covariance of its values, widened
   * for how few there are. The scatter of the measurement is in it, so that it is a little too
   * wide; what a bench does wrong on every board alike is not, and stands in the uncertainty.
   */
  private static final class BatchDraws {
    private final SplittableRandom random = SEEDS.stream("boards of a batch");
    private final Map<Long, double[]> weights = new HashMap<>();

    double[] of(BatchDistribution distribution) {
      List<BatchDistribution.Entry> counting = usual(distribution);
      int n = counting.size();
      double mean =
          counting.stream().mapToDouble(e -> e.value().orElseThrow()).average().orElseThrow();
      double wide = Math.sqrt((1 + 1.0 / n) * (n - 1) / (n - 3) / (n - 1));
      double[] values = new double[DRAWN];
      for (BatchDistribution.Entry entry : counting) {
        double off = (entry.value().orElseThrow() - mean) * wide;
        double[] weight = weights.computeIfAbsent(entry.run().id(), id -> normal());
        for (int i = 0; i < DRAWN; i++) {
          values[i] += off * weight[i];
        }
      }
      return each(values, v -> v + mean);
    }

    private double[] normal() {
      double[] normal = new double[DRAWN];
      for (int i = 0; i < DRAWN; i++) {
        normal[i] = random.nextGaussian();
      }
      return normal;
    }
  }

  /** How many boards are drawn. */
  int boards() {
    return DRAWN;
  }

  /** The values of a limit, board by board; empty where nothing tells how boards spread in it. */
  Optional<double[]> of(LimitForecast limit) {
    return Optional.ofNullable(values.get(limit.key()));
  }

  /**
   * What tells how boards spread.
   *
   * @return each source once, such as {@code the parts of the datasheet}
   */
  public List<String> sources() {
    return new ArrayList<>(new TreeSet<>(sources.values()));
  }
}
