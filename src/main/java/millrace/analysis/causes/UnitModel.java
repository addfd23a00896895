package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import millrace.analysis.design.Circuit;
import millrace.analysis.design.Deviation;
import millrace.analysis.design.Piece;
import millrace.analysis.design.RangeDesign;
import millrace.analysis.design.RangeModel;

/**
 * A built unit and its meters as one vector of unknowns, each with the spread that is normal for
 * it: the deviations of the circuit first, then what a datasheet does not state. Immutable.
 */
final class UnitModel {
  /** The leakage that a board has although its datasheet states none: as good as nothing. */
  private static final Piece.Leakage NO_LEAKAGE = new Piece.Leakage("output", 1e15, 10);

  /** Half-widths of what the model leaves out, per range (common practice, no source). */
  private static final double GAIN = 3e-6;

  private static final double PER_V = 0.5e-6;
  private static final double PER_K = 0.3e-6;

  /** Early voltage and change of beta of a usual bipolar device (common practice, no source). */
  private static final double EARLY_V = 100;

  private static final double BETA_PER_K = 7e-3;

  /** What a pass device needs to work: half of it is expected, V (common practice, no source). */
  private static final double PASS_DROP_V = 1.5;

  /** Half-widths below which a tolerance is taken as not stated, natural units. */
  private static final double LEAST_RATIO = 10e-6;

  private static final double LEAST_PER_K = 1e-6;
  private static final double LEAST_V = 1e-6;
  private static final double LEAST_V_PER_K = 1e-8;
  private static final double LEAST_A = 1e-12;
  private static final double LEAST_S = 1e-12;
  private static final double LEAST_DROP_V = 0.05;

  private final Circuit circuit;
  private final Set<String> meters;
  private final List<Double> halfWidths = new ArrayList<>();
  private final Map<String, Integer> places = new LinkedHashMap<>();
  private final List<Candidate> candidates = new ArrayList<>();

  UnitModel(Circuit stated, Set<String> meters) {
    this.circuit = withLeakage(stated);
    this.meters = new TreeSet<>(meters);
    for (Deviation d : circuit.deviations()) {
      halfWidths.add(d.halfWidth());
      candidate(d, halfWidths.size() - 1).ifPresent(candidates::add);
    }
    this.meters.forEach(this::meter);
    circuit.ranges().forEach(r -> range(r.design()));
  }

  private static Circuit withLeakage(Circuit stated) {
    List<RangeDesign> ranges =
        stated.ranges().stream().map(RangeModel::design).map(UnitModel::withLeakage).toList();
    return new Circuit(stated.referenceDegC(), ranges, stated.assumptions());
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
        r.supply());
  }

  /** The cause that a deviation is, if it is one. */
  private Optional<Candidate> candidate(Deviation d, int i) {
    return switch (d.kind()) {
      case REFERENCE -> free(CauseKind.REFERENCE, d, i, LEAST_RATIO);
      case REFERENCE_TEMPCO -> free(CauseKind.REFERENCE_TEMPCO, d, i, LEAST_PER_K);
      case NETWORK -> free(CauseKind.NETWORK, d, i, LEAST_RATIO);
      case NETWORK_TEMPCO -> free(CauseKind.NETWORK_TEMPCO, d, i, LEAST_PER_K);
      case RESISTOR -> free(CauseKind.RESISTOR, d, i, LEAST_RATIO);
      case RESISTOR_TEMPCO -> free(CauseKind.RESISTOR_TEMPCO, d, i, LEAST_PER_K);
      case OFFSET -> free(CauseKind.OFFSET, d, i, LEAST_V);
      case DRIFT -> free(CauseKind.DRIFT, d, i, LEAST_V_PER_K);
      case BIAS -> free(CauseKind.BIAS, d, i, LEAST_A);
      case BASE_LOSS -> from(CauseKind.BASE_LOSS, d, i, 1, loss(d.of()));
      case LEAKAGE -> leakage(d, i);
      case SERIES_DROP -> from(CauseKind.KNEE, d, i, 1, 0);
      case SUPPLY -> from(CauseKind.KNEE, d, i, -1, 0);
      // spread, but no causes of their own: the first looks like an amplifier's input current
      case GATE_LEAKAGE, INVERSE_GAIN -> Optional.empty();
    };
  }

  /** A cause of either sign. */
  private static Optional<Candidate> free(CauseKind kind, Deviation d, int index, double least) {
    double tolerance = Math.max(d.halfWidth(), least);
    return Optional.of(
        new Candidate(kind, d.of(), index, 1, 0, Double.NEGATIVE_INFINITY, tolerance));
  }

  /** A cause whose size cannot be below 0. */
  private static Optional<Candidate> from(
      CauseKind kind, Deviation d, int index, double sign, double nominal) {
    double least = kind == CauseKind.KNEE ? LEAST_DROP_V : LEAST_RATIO;
    double tolerance = Math.max(d.halfWidth(), least);
    return Optional.of(new Candidate(kind, d.of(), index, sign, nominal, 0, tolerance));
  }

  /** Less leakage than designed is no cause of anything. */
  private Optional<Candidate> leakage(Deviation d, int index) {
    double g = leakageS(d.of());
    return Optional.of(
        new Candidate(CauseKind.LEAKAGE, d.of(), index, 1, g, g, Math.max(g, LEAST_S)));
  }

  private double loss(String of) {
    return circuit.ranges().stream()
        .flatMap(r -> r.design().passDevice().stream())
        .filter(q -> q.name().equals(of))
        .mapToDouble(Piece.PassDevice::loss)
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
        new Candidate(CauseKind.METER, meter, index, 1, 0, Double.NEGATIVE_INFINITY, LEAST_RATIO));
  }

  private void range(RangeDesign r) {
    place("gain " + r.name(), GAIN);
    place("per volt " + r.name(), PER_V);
    place("per kelvin " + r.name(), PER_K);
    String pass = passOf(r);
    double loss = r.passDevice().map(Piece.PassDevice::loss).orElse(0.0);
    place("per volt " + pass, loss / EARLY_V);
    place("per kelvin " + pass, loss * BETA_PER_K);
    if (!places.containsKey("drop " + pass)) {
      int index = place("drop " + pass, PASS_DROP_V / 2);
      candidates.add(new Candidate(CauseKind.KNEE, pass, index, 1, 0, 0, PASS_DROP_V / 2));
    }
  }

  private static String passOf(RangeDesign r) {
    return r.passDevice().map(Piece.PassDevice::name).orElse("output stage");
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

  Circuit circuit() {
    return circuit;
  }

  List<Candidate> candidates() {
    return candidates;
  }

  int size() {
    return halfWidths.size();
  }

  /** Standard deviation of a normal unit, every value within its half-width equally likely. */
  double spread(int index) {
    return halfWidths.get(index) / Math.sqrt(3);
  }

  double halfWidth(int index) {
    return halfWidths.get(index);
  }

  /** ln |I| as the meter shows it. */
  Observable current(RangeModel range, double terminalV, double degC, String meter) {
    RangeDesign r = range.design();
    double dT = degC - circuit.referenceDegC();
    int[] each = {
      placeOf("gain " + r.name()),
      placeOf("per volt " + r.name()),
      placeOf("per kelvin " + r.name()),
      placeOf("per volt " + passOf(r)),
      placeOf("per kelvin " + passOf(r))
    };
    double[] weight = {1, terminalV, dT, terminalV, dT};
    int gain = places.getOrDefault("meter " + meter, -1);
    return state -> {
      double log = Math.log(Math.max(range.currentA(terminalV, degC, state), 1e-30));
      for (int i = 0; i < each.length; i++) {
        log += weight[i] * state[each[i]];
      }
      return gain < 0 ? log : log + Math.log1p(Math.max(state[gain], -0.999));
    };
  }

  /** The compliance voltage: the headroom less what the pass device needs. */
  Optional<Observable> compliance(RangeModel range) {
    int drop = placeOf("drop " + passOf(range.design()));
    if (range.headroomV(new double[size()]).isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(state -> range.headroomV(state).orElse(0.0) - PASS_DROP_V / 2 - state[drop]);
  }
}
