// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.evidence.Limit;
import millrace.quantity.ClosedInterval;

/**
 * The worst condition of a limit's box: the one of least (limit - prediction)/u, on a grid of at
 * least 15 x 13 conditions, corners and measured conditions too, refined (methods.md 7.1).
 *
 * @param condition the condition; in the known part of the box if a part is missing, empty if no
 *     part is known
 * @param prediction the value there
 * @param wanting the measurements missing for a judgement of the whole box, such as {@code measure
 *     at 50 degC}; empty where all of it is known
 */
public record WorstConditionOfBox(
    Optional<PredictionCondition> condition,
    Optional<ResponsePrediction.Value> prediction,
    List<String> wanting) {

  /** Copies the list. */
  public WorstConditionOfBox {
    wanting = List.copyOf(wanting);
  }

  /**
   * Searches (methods.md 7.1).
   *
   * @param response the response of the range
   * @param limitPpm the limit on the error, ppm of I_N
   * @param box the conditions of the limit
   * @return the worst condition, and the measurements that are missing
   */
  public static WorstConditionOfBox of(
      RangeResponse response, Limit limitPpm, PromisedConditionBox box) {
    Search search = new Search(response, limitPpm, box);
    Optional<PredictionCondition> worst = search.worst();
    return new WorstConditionOfBox(
        worst, worst.flatMap(c -> response.at(c).value()), List.copyOf(search.wanting));
  }

  /** Looks for the worst condition. Single-threaded. */
  private static final class Search {
    private static final int TEMPERATURES = 17;
    private static final int VOLTAGES = 15;
    private static final int STARTS = 3;

    /** Number of halvings of the step: to less than a thousandth of the box's side. */
    private static final int HALVINGS = 9;

    private static final double ARITHMETIC = 1e-12;

    private final RangeResponse response;
    private final Limit limitPpm;
    private final PromisedConditionBox box;
    private final Set<String> wanting = new LinkedHashSet<>();
    private final List<Node> nodes = new ArrayList<>();
    private final Map<Asked, Double> margins = new HashMap<>();

    /** A condition of the search, with the distance between prediction and limit in u. */
    private record Node(double degC, double volts, OptionalDouble supplyV, double margin) {}

    /** A condition that was computed; supply in V, or not a number for the usual one. */
    private record Asked(double degC, double volts, double supplyV) {}

    Search(RangeResponse response, Limit limitPpm, PromisedConditionBox box) {
      this.response = response;
      this.limitPpm = limitPpm;
      this.box = box;
    }

    Optional<PredictionCondition> worst() {
      for (OptionalDouble supply : supplies()) {
        corners(supply);
        grid(supply);
        measured(supply);
      }
      nodes.sort((a, b) -> Double.compare(a.margin(), b.margin()));
      Optional<Node> worst = Optional.empty();
      for (Node start : nodes.subList(0, Math.min(STARTS, nodes.size()))) {
        Node refined = refined(start);
        if (worst.isEmpty() || refined.margin() < worst.get().margin()) {
          worst = Optional.of(refined);
        }
      }
      return worst.map(
          n -> PredictionCondition.atVoltage(n.degC(), n.volts()).withSupply(n.supplyV()));
    }

    private void corners(OptionalDouble supply) {
      ClosedInterval t = box.temperatureDegC();
      ClosedInterval v = box.voltageV();
      for (double degC : new double[] {t.lower(), t.upper()}) {
        for (double volts : new double[] {v.lower(), v.upper()}) {
          wanting.addAll(
              response.wanting(PredictionCondition.atVoltage(degC, volts).withSupply(supply)));
        }
      }
    }

    private List<OptionalDouble> supplies() {
      if (box.supplyV().isEmpty()) {
        return List.of(OptionalDouble.empty());
      }
      ClosedInterval s = box.supplyV().get();
      return s.lower() == s.upper()
          ? List.of(OptionalDouble.of(s.lower()))
          : List.of(OptionalDouble.of(s.lower()), OptionalDouble.of(s.upper()));
    }

    private void grid(OptionalDouble supply) {
      for (double degC : steps(box.temperatureDegC(), TEMPERATURES)) {
        for (double volts : steps(box.voltageV(), VOLTAGES)) {
          look(degC, volts, supply).ifPresent(nodes::add);
        }
      }
    }

    private static double[] steps(ClosedInterval span, int count) {
      if (span.lower() == span.upper()) {
        return new double[] {span.lower()};
      }
      double[] steps = new double[count];
      for (int i = 0; i < count; i++) {
        double share = i / (count - 1.0);
        steps[i] = span.lower() * (1 - share) + span.upper() * share;
      }
      return steps;
    }

    private void measured(OptionalDouble supply) {
      double sign = Math.signum(response.nominalA());
      for (ResponsePoint p : response.points()) {
        double degC = p.temperatureDegC().value();
        double volts = sign * p.voltageV().value();
        if (inside(box.temperatureDegC(), degC) && inside(box.voltageV(), volts)) {
          look(degC, volts, supply).ifPresent(nodes::add);
        }
      }
    }

    private static boolean inside(ClosedInterval span, double value) {
      return value >= span.lower() && value <= span.upper();
    }

    private Optional<Node> look(double degC, double volts, OptionalDouble supply) {
      PredictionCondition at = PredictionCondition.atVoltage(degC, volts).withSupply(supply);
      boolean known = response.isKnown(at);
      if (wanting.isEmpty() && !known) {
        wanting.addAll(response.wanting(at)); // an edge may dip between the corners
      }
      return known ? Optional.of(new Node(degC, volts, supply, margin(at))) : Optional.empty();
    }

    /** Steps from several starts meet, and at an edge of the box they end in one condition. */
    private double margin(PredictionCondition at) {
      Asked asked =
          new Asked(
              at.temperatureDegC(),
              at.voltageV().orElse(Double.NaN),
              at.supplyV().orElse(Double.NaN));
      return margins.computeIfAbsent(asked, a -> computed(at));
    }

    private double computed(PredictionCondition at) {
      double[] now = response.errorAndUPpm(at);
      double u = Math.max(now[1], ARITHMETIC);
      double above =
          limitPpm.upper().isPresent()
              ? limitPpm.upper().getAsDouble() - now[0]
              : Double.POSITIVE_INFINITY;
      double below =
          limitPpm.lower().isPresent()
              ? now[0] - limitPpm.lower().getAsDouble()
              : Double.POSITIVE_INFINITY;
      return Math.min(above, below) / u;
    }

    /** Walks to worse neighbours inside the box, by steps that are halved. */
    private Node refined(Node start) {
      Node best = start;
      double stepK = width(box.temperatureDegC()) / (TEMPERATURES - 1);
      double stepV = width(box.voltageV()) / (VOLTAGES - 1);
      for (int halving = 0; halving < HALVINGS; halving++) {
        Optional<Node> worse = worstAround(best, stepK, stepV);
        while (worse.isPresent()) {
          best = worse.get();
          worse = worstAround(best, stepK, stepV);
        }
        stepK /= 2;
        stepV /= 2;
      }
      return best;
    }

    private static double width(ClosedInterval span) {
      return span.upper() - span.lower();
    }

    private Optional<Node> worstAround(Node from, double stepK, double stepV) {
      Optional<Node> worst = Optional.empty();
      double least = from.margin();
      for (int i = -1; i <= 1; i++) {
        for (int j = -1; j <= 1; j++) {
          double degC = clamped(from.degC() + i * stepK, box.temperatureDegC());
          double volts = clamped(from.volts() + j * stepV, box.voltageV());
          PredictionCondition at =
              PredictionCondition.atVoltage(degC, volts).withSupply(from.supplyV());
          double margin = response.isKnown(at) ? margin(at) : least;
          if (margin < least) {
            least = margin;
            worst = Optional.of(new Node(degC, volts, from.supplyV(), margin));
          }
        }
      }
      return worst;
    }

    private static double clamped(double value, ClosedInterval span) {
      return Math.max(span.lower(), Math.min(span.upper(), value));
    }
  }
}
