// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Collectors;
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
    return new CauseDiagnoser(circuit, coverage, voltmeterUpstream).diagnosis(observations);
  }

  private ErrorCauseDiagnosis diagnosis(List<? extends CauseObservation> observations) {
    sort(observations);
    if (currents.isEmpty()) {
      notes.add("no current of a range that says what it is made from: no cause can be found");
      return new ErrorCauseDiagnosis(
          List.of(), List.of(), OptionalDouble.empty(), Optional.empty(), notes);
    }
    UnitDeviationModel model =
        new UnitDeviationModel(
            circuit,
            currents.stream().map(c -> c.meter()).collect(Collectors.toSet()),
            voltmeterUpstream);
    CauseInferenceProblem problem = CauseProblemBuilder.problem(model, currents, knees);
    OptionalInt outside = problem.farthest(OUTSIDE);
    List<CauseCandidate> candidates = new ArrayList<>(candidates(model));
    MidRunChangeFinder changes = new MidRunChangeFinder(problem, currents);
    candidates.addAll(changes.among(candidates));
    CauseModelSelection selection =
        new CauseModelSelection(problem, candidates, changes.moments(), outside.isPresent());
    DiscriminatingMeasurement separation = new DiscriminatingMeasurement(model, problem, currents);
    List<Group> groups = groups(selection, separation);
    List<Cause> causes = groups.stream().flatMap(g -> g.causes().stream()).toList();
    double left = selection.best().chiSquared() / problem.size();
    notes.add(remainder(left));
    outside.ifPresent(i -> notes.add(outside(i, problem.worst(i))));
    Optional<CauseCandidate> late =
        selection.best().candidates().stream().filter(CauseCandidate::late).findFirst();
    late.ifPresent(c -> notes.add(0, changed(c, causes)));
    return new ErrorCauseDiagnosis(
        causes,
        SingleCausePredictions.all(model, currents, states(groups)),
        OptionalDouble.of(left),
        late.flatMap(CauseCandidate::since),
        notes);
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
    if (i >= currents.size()) {
      CauseObservation knee = knees.get(i - currents.size());
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

  private static Map<CauseCandidate, Double> states(List<Group> groups) {
    Map<CauseCandidate, Double> states = new LinkedHashMap<>();
    for (Group group : groups) {
      for (int i = 0; i < group.members().size(); i++) {
        CauseCandidate candidate = group.members().get(i);
        CauseFit fit = group.fits().get(i);
        states.put(candidate, fit.state(candidate));
      }
    }
    return states;
  }

  private void sort(List<? extends CauseObservation> observations) {
    Set<String> strange = new LinkedHashSet<>();
    for (CauseObservation o : observations) {
      Optional<RangeCircuitModel> range = circuit.range(o.range());
      if (range.isEmpty()) {
        strange.add(o.range());
      } else if (o instanceof CauseObservation.OfCompliance knee) {
        if (range.get().design().supply().isPresent()) {
          knees.add(knee);
        }
      } else if (o instanceof CauseObservation.OfCurrent current) {
        if (usable(range.get(), current)) {
          currents.add(current);
        }
      }
    }
    strange.forEach(r -> notes.add("range " + r + " does not say what it is made from: left out"));
    thin();
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
    double low = currents.stream().mapToDouble(c -> c.degC()).min().orElse(0);
    double high = currents.stream().mapToDouble(c -> c.degC()).max().orElse(0);
    boolean span = high - low >= 2;
    return model.candidates().stream().filter(c -> span || !c.kind().ofTemperature()).toList();
  }

  /** Causes that cannot be separated, with the fit of each. */
  private record Group(
      double probability,
      double gain,
      List<CauseCandidate> members,
      List<CauseFit> fits,
      List<Cause> causes) {

    /** Sort key: among causes more likely than not, the heaviest first. */
    double rank() {
      return probability > 0.5 ? 1 + gain : probability;
    }
  }

  private List<Group> groups(CauseModelSelection selection, DiscriminatingMeasurement separation) {
    List<CauseCandidate> likely =
        selection.candidates().stream()
            .filter(c -> selection.probability(c) >= ErrorCauseDiagnosis.LEAST_PROBABILITY)
            .sorted(Comparator.comparingDouble(selection::probability).reversed())
            .toList();
    Set<CauseCandidate> placed = new LinkedHashSet<>();
    List<Group> groups = new ArrayList<>();
    groups.add(nothing(selection.probabilityOfNothing()));
    for (CauseCandidate c : likely) {
      if (!placed.contains(c)) {
        Group group = group(selection, separation, c, placed);
        placed.addAll(group.members());
        groups.add(group);
      }
    }
    groups.sort(Comparator.comparingDouble(Group::rank).reversed());
    return groups;
  }

  private static Group nothing(double probability) {
    Cause cause =
        new Cause(
            Cause.NOTHING,
            Optional.empty(),
            Optional.empty(),
            probability,
            List.of(),
            Optional.empty());
    return new Group(probability, 0, List.of(), List.of(), List.of(cause));
  }

  private Group group(
      CauseModelSelection selection,
      DiscriminatingMeasurement separation,
      CauseCandidate first,
      Set<CauseCandidate> placed) {
    CauseFit best = selection.bestWith(first).orElseThrow();
    Map<CauseCandidate, CauseFit> same = new LinkedHashMap<>();
    same.put(first, best);
    double gain = selection.scaled(selection.without(best, first) - best.chiSquared());
    double close = Math.min(ErrorCauseDiagnosis.SEPARATED_CHI_SQUARED, gain / 2);
    for (CauseCandidate other : selection.candidates()) {
      if (!placed.contains(other) && !best.contains(other)) {
        selection
            .exchanged(best, first, other)
            .filter(f -> selection.scaled(f.chiSquared() - best.chiSquared()) < close)
            .ifPresent(f -> same.put(other, f));
      }
    }
    List<CauseCandidate> members = new ArrayList<>(same.keySet());
    members.sort(
        Comparator.<CauseCandidate>comparingDouble(c -> -Math.rint(100 * selection.probability(c)))
            .thenComparingDouble(c -> c.multiple(stateOf(same, c))));
    List<CauseFit> fits = members.stream().map(c -> fitOf(same, c)).toList();
    Optional<String> separatedBy =
        members.size() > 1 ? separation.of(fits, members, gain) : Optional.empty();
    double sum = members.stream().mapToDouble(selection::probability).sum();
    List<Cause> causes = new ArrayList<>();
    for (int i = 0; i < members.size(); i++) {
      causes.add(cause(members, i, fits.get(i), selection, separatedBy));
    }
    return new Group(Math.min(1, sum), gain, members, fits, causes);
  }

  private static CauseFit fitOf(Map<CauseCandidate, CauseFit> fits, CauseCandidate candidate) {
    CauseFit fit = fits.get(candidate);
    if (fit == null) {
      throw new IllegalStateException("no fit of " + candidate.name());
    }
    return fit;
  }

  private static double stateOf(Map<CauseCandidate, CauseFit> fits, CauseCandidate candidate) {
    CauseFit fit = fitOf(fits, candidate);
    return fit.state(candidate);
  }

  private Cause cause(
      List<CauseCandidate> members,
      int i,
      CauseFit fit,
      CauseModelSelection selection,
      Optional<String> separatedBy) {
    CauseCandidate c = members.get(i);
    double natural = c.natural(fit.state(c));
    double u = fit.u(c) * c.kind().slope(natural);
    return new Cause(
        c.kind().text(),
        Optional.of(c.where()),
        Optional.of(new Cause.Size(c.kind().size(natural), c.kind().unit(), u, k * u)),
        selection.probability(c),
        members.stream().filter(m -> !m.equals(c)).map(CauseCandidate::name).toList(),
        separatedBy);
  }
}
