// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.DoubleStream;
import millrace.analysis.design.DesignCircuit;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;

/** Derives a diagnosis from observations. Used once. */
public final class CauseDiagnoser {
  private final DesignCircuit circuit;
  private final double k;
  private final boolean voltmeterUpstream;
  private final List<String> notes = new ArrayList<>();
  private final List<CauseObservation.OfCurrent> currents = new ArrayList<>();
  private final List<CauseObservation.OfCompliance> knees = new ArrayList<>();
  private final List<CauseObservation.OfPart> parts = new ArrayList<>();

  private static final ErrorCauseDiagnosis NONE =
      new ErrorCauseDiagnosis(
          List.of(),
          List.of(),
          OptionalDouble.empty(),
          Optional.empty(),
          List.of("no current of a range that says what it is made from: no cause can be found"));

  /**
   * Beyond the worst case by more standard uncertainties than this is not chance: 1 in 1,000
   * (normal).
   */
  private static final double OUTSIDE = 3.3;

  /** Up to this chi^2 per observation the residuals are explained by chance and shared errors. */
  private static final double HOLDS = 2;

  private CauseDiagnoser(DesignCircuit circuit, double coverage, boolean voltmeterUpstream) {
    this.voltmeterUpstream = voltmeterUpstream;
    this.circuit = circuit;
    this.k = CoverageFactors.factor(coverage, OptionalDouble.empty());
  }

  /**
   * Finds the causes (methods.md 9).
   *
   * @param circuit what the unit is made of
   * @param observations currents on the plateau and compliance voltages; those of ranges that the
   *     circuit lacks are left out and noted
   * @param coverage probability of the stated intervals, above 0 and below 1
   * @param voltmeterUpstream whether a voltmeter sits between the unit and its current meter, so
   *     that what its input takes is missing from the reading
   * @return the diagnosis; without a usable current the causes are empty and a note says why
   */
  public static ErrorCauseDiagnosis of(
      DesignCircuit circuit,
      List<? extends CauseObservation> observations,
      double coverage,
      boolean voltmeterUpstream) {
    return inDetail(circuit, observations, coverage, voltmeterUpstream)
        .map(InDetail::diagnosis)
        .orElse(NONE);
  }

  /**
   * The same with what it rests on.
   *
   * @param circuit what the unit is made of
   * @param observations currents, compliance voltages and values by hand
   * @param coverage probability of the stated intervals
   * @param voltmeterUpstream as in {@link #of}
   * @return the diagnosis; empty without a usable current
   */
  static Optional<InDetail> inDetail(
      DesignCircuit circuit,
      List<? extends CauseObservation> observations,
      double coverage,
      boolean voltmeterUpstream) {
    return new CauseDiagnoser(circuit, coverage, voltmeterUpstream).inDetail(observations);
  }

  /**
   * A diagnosis with what it rests on.
   *
   * @param diagnosis what is found
   * @param model of the unit
   * @param used observations, in the order of the problem
   * @param separation what could still be measured
   * @param sets causes that are not separated, the likeliest first
   */
  record InDetail(
      ErrorCauseDiagnosis diagnosis,
      UnitDeviationModel model,
      List<CauseObservation> used,
      DiscriminatingMeasurement separation,
      List<CauseSet> sets) {}

  private Optional<InDetail> inDetail(List<? extends CauseObservation> observations) {
    sort(observations);
    if (currents.isEmpty()) {
      return Optional.empty();
    }
    UnitDeviationModel model =
        new UnitDeviationModel(
            circuit,
            currents.stream().map(c -> c.meter()).collect(Collectors.toSet()),
            voltmeterUpstream);
    known(model);
    CauseInferenceProblem problem = CauseProblemBuilder.problem(model, currents, knees, parts);
    OptionalInt outside = problem.farthest(OUTSIDE);
    List<CauseCandidate> candidates = new ArrayList<>(candidates(model));
    MidRunChangeFinder changes = new MidRunChangeFinder(problem, currents);
    candidates.addAll(changes.among(candidates));
    CauseModelSelection selection =
        new CauseModelSelection(problem, candidates, changes.moments(), outside.isPresent());
    DiscriminatingMeasurement separation = new DiscriminatingMeasurement(model, problem, currents);
    List<CauseSet> sets = new CauseSets(selection, separation, k).all();
    List<Cause> causes = sets.stream().flatMap(g -> g.causes().stream()).toList();
    double left = selection.best().chiSquared() / problem.size();
    notes.add(remainder(left));
    outside.ifPresent(i -> notes.add(outside(i, problem.worst(i))));
    Optional<CauseCandidate> late =
        selection.best().candidates().stream().filter(CauseCandidate::late).findFirst();
    late.ifPresent(c -> notes.add(0, changed(c, causes)));
    ErrorCauseDiagnosis diagnosis =
        new ErrorCauseDiagnosis(
            causes,
            SingleCausePredictions.all(model, currents, states(sets)),
            OptionalDouble.of(left),
            late.flatMap(CauseCandidate::since),
            notes);
    return Optional.of(new InDetail(diagnosis, model, used(), separation, sets));
  }

  private List<CauseObservation> used() {
    List<CauseObservation> used = new ArrayList<>(currents);
    used.addAll(knees);
    used.addAll(parts);
    return used;
  }

  /** Leaves out values of parts that the circuit does not have. */
  private void known(UnitDeviationModel model) {
    for (CauseObservation.OfPart p : List.copyOf(parts)) {
      Optional<PartObservable> observable = CauseProblemBuilder.observable(model, p.value());
      boolean usable =
          observable
              .filter(o -> Double.isFinite(o.measured().applyAsDouble(p.value().value())))
              .isPresent();
      if (!usable) {
        parts.remove(p);
        notes.add("the %s tells nothing of this circuit: left out".formatted(p.value().name()));
      }
    }
  }

  private static String changed(CauseCandidate late, List<Cause> causes) {
    String size =
        causes.stream()
            .filter(c -> c.name().equals(late.name()))
            .flatMap(c -> c.size().stream())
            .map(s -> " of " + inWords(s))
            .findFirst()
            .orElse("");
    return "%s: %s %s%s from then on"
        .formatted(
            late.since().map(MidRunChange::inWords).orElse(""),
            late.kind().text(),
            late.of(),
            size);
  }

  private static String inWords(Cause.Size size) {
    return size.unit().equals(Dimension.RESISTANCE.baseUnit())
        ? QuantityText.print(size.value(), Dimension.RESISTANCE, 3)
        : NumberText.significant(size.value(), 3) + " " + size.unit();
  }

  /**
   * What the likeliest explanation leaves unexplained, in words: a model that does not fit names no
   * cause.
   */
  private static String remainder(double left) {
    String times = NumberText.significant(left, 2);
    return left <= HOLDS
        ? "the likeliest explanation leaves %s times what uncertainty and tolerances explain: it holds"
            .formatted(times)
        : "the likeliest explanation leaves %s times what uncertainty and tolerances explain: something else is at work, and the causes above may be the wrong ones"
            .formatted(times);
  }

  /** Notes an observation that no unit within its tolerances can show. */
  private String outside(int i, double worst) {
    String words = "lies outside of the worst case of the parts";
    if (i >= currents.size() + knees.size()) {
      return "the %s by hand %s: something is abnormal"
          .formatted(parts.get(i - currents.size() - knees.size()).value().name(), words);
    }
    if (i >= currents.size()) {
      CauseObservation.OfCompliance knee = knees.get(i - currents.size());
      return "range %s: the compliance voltage %s, %s V about the design: something is abnormal"
          .formatted(knee.range(), words, plusMinus(worst));
    }
    CauseObservation.OfCurrent c = currents.get(i);
    return "range %s at %s degC and %s V: the current %s, %s ppm about the design: something is abnormal"
        .formatted(
            c.range(),
            NumberText.significant(c.degC(), 3),
            NumberText.significant(c.terminalV(), 3),
            words,
            plusMinus(worst * 1e6));
  }

  private static String plusMinus(double halfWidth) {
    return "+/-" + NumberText.significant(halfWidth, 3);
  }

  private static Map<CauseCandidate, Double> states(List<CauseSet> sets) {
    Map<CauseCandidate, Double> states = new LinkedHashMap<>();
    for (CauseSet set : sets) {
      for (int i = 0; i < set.members().size(); i++) {
        CauseCandidate candidate = set.members().get(i);
        states.put(candidate, set.fits().get(i).state(candidate));
      }
    }
    return states;
  }

  private void sort(List<? extends CauseObservation> observations) {
    Set<String> strange = new LinkedHashSet<>();
    for (CauseObservation o : observations) {
      if (o instanceof CauseObservation.OfCompliance knee) {
        range(knee.range(), strange)
            .filter(r -> r.design().supply().isPresent())
            .ifPresent(r -> knees.add(knee));
      } else if (o instanceof CauseObservation.OfCurrent current) {
        range(current.range(), strange)
            .filter(r -> usable(r, current))
            .ifPresent(r -> currents.add(current));
      } else if (o instanceof CauseObservation.OfPart part) {
        parts.add(part);
      }
    }
    strange.forEach(r -> notes.add("range " + r + " does not say what it is made from: left out"));
    thin();
  }

  private Optional<RangeCircuitModel> range(String name, Set<String> strange) {
    Optional<RangeCircuitModel> range = circuit.range(name);
    if (range.isEmpty()) {
      strange.add(name);
    }
    return range;
  }

  private boolean usable(RangeCircuitModel range, CauseObservation.OfCurrent current) {
    boolean flows = current.current().value() / range.design().nominalA() > 0.01;
    if (!flows) {
      notes.add(
          "range %s gives no current of its sign at %s V: left out"
              .formatted(current.range(), current.terminalV()));
    }
    return flows;
  }

  /** Keeps every n-th current where there are too many. */
  private void thin() {
    int n = currents.size();
    if (n <= ErrorCauseDiagnosis.MOST) {
      return;
    }
    List<CauseObservation.OfCurrent> kept = new ArrayList<>();
    for (int i = 0; i < ErrorCauseDiagnosis.MOST; i++) {
      kept.add(currents.get((int) ((long) i * n / ErrorCauseDiagnosis.MOST)));
    }
    currents.clear();
    currents.addAll(kept);
    notes.add("%s of %s currents used, evenly spread".formatted(ErrorCauseDiagnosis.MOST, n));
  }

  /** Without a span of temperature a tempco explains nothing that a deviation does not. */
  private List<CauseCandidate> candidates(UnitDeviationModel model) {
    double[] degC =
        DoubleStream.concat(
                currents.stream().mapToDouble(c -> c.degC()),
                parts.stream().flatMapToDouble(p -> p.value().degC().stream()))
            .toArray();
    double low = Arrays.stream(degC).min().orElse(0);
    double high = Arrays.stream(degC).max().orElse(0);
    boolean span = high - low >= 2;
    return model.candidates().stream().filter(c -> span || !c.kind().ofTemperature()).toList();
  }
}
