// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import millrace.analysis.design.DesignCircuit;
import millrace.analysis.design.DesignDeviation;
import millrace.analysis.design.DesignPart;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.design.RangeDesign;

/**
 * A built unit and its meters as one vector of unknowns, each with its normal spread: the
 * deviations of the circuit first, then those that a datasheet does not state. Immutable.
 */
final class UnitDeviationModel {
  /** The leakage assumed where the datasheet states none: negligible. */
  private static final DesignPart.Leakage NO_LEAKAGE = new DesignPart.Leakage("output", 1e15, 10);

  /** Least half-width of an amplifier's reciprocal gain. */
  private static final double LEAST_INVERSE_GAIN = 0.1e-6;

  /** Half-widths below which a tolerance is taken as not stated, natural units. */
  private static final double LEAST_RATIO = 10e-6;

  private static final double LEAST_PER_K = 1e-6;
  private static final double LEAST_V = 1e-6;
  private static final double LEAST_V_PER_K = 1e-8;
  private static final double LEAST_A = 1e-12;
  private static final double LEAST_S = 1e-12;
  private static final double LEAST_DROP_V = 0.05;

  private static final String VOLTMETER = "voltmeter";

  private final DesignCircuit circuit;
  private final Set<String> meters;
  private final List<Double> halfWidths = new ArrayList<>();
  private final Map<String, Integer> places = new LinkedHashMap<>();
  private final Map<String, UnmodelledRangeError> remainders = new LinkedHashMap<>();
  private final List<CauseCandidate> candidates = new ArrayList<>();

  /**
   * A model.
   *
   * @param stated the circuit of the unit
   * @param meters which meters took its currents
   * @param voltmeterUpstream whether a voltmeter sits between the unit and them
   */
  UnitDeviationModel(DesignCircuit stated, Set<String> meters, boolean voltmeterUpstream) {
    this.circuit = withLeakage(stated);
    this.meters = new TreeSet<>(meters);
    for (DesignDeviation d : circuit.deviations()) {
      halfWidths.add(d.halfWidth());
      candidate(d, halfWidths.size() - 1).ifPresent(candidates::add);
    }
    this.meters.forEach(this::meter);
    if (voltmeterUpstream) {
      voltmeter();
    }
    circuit.ranges().forEach(r -> range(r.design()));
  }

  private static DesignCircuit withLeakage(DesignCircuit stated) {
    List<RangeDesign> ranges =
        stated.ranges().stream()
            .map(RangeCircuitModel::design)
            .map(UnitDeviationModel::withLeakage)
            .toList();
    return new DesignCircuit(stated.referenceDegC(), ranges, stated.assumptions());
  }

  private static RangeDesign withLeakage(RangeDesign r) {
    return new RangeDesign(
        r.name(),
        r.nominalA(),
        r.loadOhm(),
        r.setVoltageV(),
        r.reference(),
        r.resistor(),
        r.amplifier(),
        r.passDevice(),
        r.series(),
        Optional.of(r.leakage().orElse(NO_LEAKAGE)),
        r.supply(),
        r.firstStage(),
        r.taps());
  }

  /** The cause that a deviation is, if it is one. */
  private Optional<CauseCandidate> candidate(DesignDeviation d, int i) {
    return switch (d.kind()) {
      case REFERENCE -> free(ErrorCause.REFERENCE, d, i, LEAST_RATIO);
      case REFERENCE_TEMPCO -> free(ErrorCause.REFERENCE_TEMPCO, d, i, LEAST_PER_K);
      case NETWORK -> free(ErrorCause.NETWORK, d, i, LEAST_RATIO);
      case NETWORK_TEMPCO -> free(ErrorCause.NETWORK_TEMPCO, d, i, LEAST_PER_K);
      case RESISTOR -> free(ErrorCause.RESISTOR, d, i, LEAST_RATIO);
      case RESISTOR_TEMPCO -> free(ErrorCause.RESISTOR_TEMPCO, d, i, LEAST_PER_K);
      case OFFSET -> free(ErrorCause.OFFSET, d, i, LEAST_V);
      case DRIFT -> free(ErrorCause.DRIFT, d, i, LEAST_V_PER_K);
      case BIAS -> free(ErrorCause.BIAS, d, i, LEAST_A);
      case BASE_LOSS -> from(ErrorCause.BASE_LOSS, d, i, 1, loss(d.of()));
      case LEAKAGE -> leakage(d, i);
      case SERIES_DROP, PASS_DROP -> from(ErrorCause.KNEE, d, i, 1, 0);
      case INVERSE_GAIN -> gain(d, i);
      case SUPPLY -> from(ErrorCause.KNEE, d, i, -1, 0);
      // spread, but no causes of their own: the first looks like an amplifier's input current
      case GATE_LEAKAGE, OWN_GAIN, BASE_PER_V, BASE_PER_K -> Optional.empty();
      case REFERENCE_CURVATURE, NETWORK_CURVATURE, RESISTOR_CURVATURE -> Optional.empty();
    };
  }

  /** A cause of either sign. */
  private static Optional<CauseCandidate> free(
      ErrorCause kind, DesignDeviation d, int index, double least) {
    double tolerance = Math.max(d.halfWidth(), least);
    return Optional.of(
        new CauseCandidate(kind, d.of(), index, 1, 0, Double.NEGATIVE_INFINITY, tolerance));
  }

  /** A cause whose size cannot be below 0. */
  private static Optional<CauseCandidate> from(
      ErrorCause kind, DesignDeviation d, int index, double sign, double nominal) {
    double least = kind == ErrorCause.KNEE ? LEAST_DROP_V : LEAST_RATIO;
    double tolerance = Math.max(d.halfWidth(), least);
    return Optional.of(new CauseCandidate(kind, d.of(), index, sign, nominal, 0, tolerance));
  }

  /** Less leakage than designed is no cause of anything. */
  private Optional<CauseCandidate> leakage(DesignDeviation d, int index) {
    double g = leakageS(d.of());
    return Optional.of(
        new CauseCandidate(ErrorCause.LEAKAGE, d.of(), index, 1, g, g, Math.max(g, LEAST_S)));
  }

  /** More gain than designed is no cause of anything. */
  private Optional<CauseCandidate> gain(DesignDeviation d, int index) {
    double inverse =
        circuit.ranges().stream()
            .flatMap(r -> r.design().amplifier().stream())
            .filter(a -> a.name().equals(d.of()))
            .mapToDouble(a -> 1 / a.gain())
            .findFirst()
            .orElse(0);
    double tolerance = Math.max(d.halfWidth(), LEAST_INVERSE_GAIN);
    return Optional.of(
        new CauseCandidate(ErrorCause.GAIN, d.of(), index, 1, inverse, inverse, tolerance));
  }

  private double loss(String of) {
    return circuit.ranges().stream()
        .flatMap(r -> r.design().passDevice().stream())
        .filter(q -> q.name().equals(of))
        .mapToDouble(DesignPart.PassDevice::loss)
        .findFirst()
        .orElse(0);
  }

  private double leakageS(String of) {
    return circuit.ranges().stream()
        .flatMap(r -> r.design().leakage().stream())
        .filter(l -> l.name().equals(of))
        .mapToDouble(l -> 1 / l.resistanceOhm())
        .findFirst()
        .orElse(0);
  }

  /** The meter's normal spread is in the uncertainty of what it measured. */
  private void meter(String meter) {
    int index = place("meter " + meter, 0);
    candidates.add(
        new CauseCandidate(
            ErrorCause.METER, meter, index, 1, 0, Double.NEGATIVE_INFINITY, LEAST_RATIO));
  }

  /**
   * The input resistance stated in the bench file is corrected for: only a lower one is a cause.
   */
  private void voltmeter() {
    int index = place(VOLTMETER, 0);
    candidates.add(
        new CauseCandidate(ErrorCause.VOLTMETER_INPUT, VOLTMETER, index, 1, 0, 0, LEAST_S));
  }

  private void range(RangeDesign r) {
    UnmodelledRangeError remainder = new UnmodelledRangeError(r, decadesBelow(r));
    remainder.halfWidths().forEach(this::place);
    remainders.put(r.name(), remainder);
  }

  /** How far the current lies below the largest that passes the same device, in decades. */
  private double decadesBelow(RangeDesign r) {
    return circuit.ranges().stream()
        .map(RangeCircuitModel::design)
        .filter(o -> o.passName().equals(r.passName()))
        .mapToDouble(o -> Math.log10(Math.abs(o.nominalA() / r.nominalA())))
        .max()
        .orElse(0);
  }

  private int place(String name, double halfWidth) {
    return places.computeIfAbsent(
        name,
        n -> {
          halfWidths.add(halfWidth);
          return halfWidths.size() - 1;
        });
  }

  private int placeOf(String name) {
    Integer place = places.get(name);
    if (place == null) {
      throw new IllegalArgumentException("the model has no " + name);
    }
    return place;
  }

  DesignCircuit circuit() {
    return circuit;
  }

  List<CauseCandidate> candidates() {
    return candidates;
  }

  int size() {
    return halfWidths.size();
  }

  /** Half-width of an unknown for a normal unit. */
  double halfWidth(int index) {
    return halfWidths.get(index);
  }

  /** Standard deviation of a normal unit, every value within its half-width equally likely. */
  double spread(int index) {
    return halfWidths.get(index) / Math.sqrt(3);
  }

  /**
   * ln |I| as the meter shows it; as it is, with no instrument at the unit, where none is named.
   */
  UnitModelOutput current(RangeCircuitModel range, double terminalV, double degC, String meter) {
    double dT = degC - circuit.referenceDegC();
    UnmodelledRangeError rest = remainderOf(range);
    Map<String, Double> weights = rest.weights(terminalV, dT);
    int[] each = weights.keySet().stream().mapToInt(this::placeOf).toArray();
    double[] weight = weights.values().stream().mapToDouble(w -> w).toArray();
    int gain = places.getOrDefault("meter " + meter, -1);
    int input = meter.isEmpty() ? -1 : places.getOrDefault(VOLTMETER, -1);
    int own = placeOf(rest.ofRange());
    int perDecade = placeOf(rest.perDecade());
    int crowded = placeOf(rest.crowded());
    return state -> {
      double taken = input < 0 ? 0 : terminalV * state[input];
      double log = Math.log(Math.max(range.currentA(terminalV, degC, state) - taken, 1e-30));
      for (int i = 0; i < each.length; i++) {
        log += weight[i] * state[each[i]];
      }
      double share = range.baseShare(terminalV, degC, state);
      log -= share * rest.more(state[own], state[perDecade], state[crowded], share);
      return gain < 0 ? log : log + Math.log1p(Math.max(state[gain], -0.999));
    };
  }

  private UnmodelledRangeError remainderOf(RangeCircuitModel range) {
    UnmodelledRangeError remainder = remainders.get(range.design().name());
    if (remainder == null) {
      throw new IllegalArgumentException("the model has no range " + range.design().name());
    }
    return remainder;
  }

  /** The compliance voltage: the headroom, plus the smaller junction drops at a small current. */
  Optional<UnitModelOutput> compliance(RangeCircuitModel range) {
    if (range.headroomV(new double[size()]).isEmpty()) {
      return Optional.empty();
    }
    UnmodelledRangeError remainder = remainderOf(range);
    int junctions = placeOf(remainder.junctions());
    return Optional.of(
        state -> range.headroomV(state).orElse(0.0) + remainder.decadesBelow() * state[junctions]);
  }
}
