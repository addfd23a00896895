// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import millrace.analysis.causes.CauseInferenceProblem.Extra;
import millrace.analysis.design.DesignDeviation.Kind;
import millrace.analysis.design.DesignPart;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.design.RangeDesign;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * Which measurement would separate causes that explain the observations equally well (methods.md
 * 9). Each possible measurement is tried on the model: it separates two causes if their predictions
 * then differ by five standard deviations. What the bench can do by itself comes first, then what a
 * person does with a voltmeter or an ohmmeter.
 */
final class DiscriminatingMeasurement {
  /** Difference, in standard deviations, from which two causes are separated. */
  private static final double APART = 5;

  /**
   * Part of the evidence for a cause that a separating measurement must reach: it cannot exceed
   * that evidence.
   */
  private static final double OF_EVIDENCE = 0.8;

  /** What a good voltmeter, ohmmeter or second current meter reaches, relative. */
  private static final double U_RELATIVE = 20e-6;

  private static final double U_OFFSET_V = 5e-6;
  private static final double U_VOLTAGE_V = 0.01;
  private static final double U_BIAS_A = 1e-12;
  private static final double U_PER_K = 0.5e-6;
  private static final double U_DRIFT = 0.1e-6;
  private static final double U_LOSS = 50e-6;
  private static final double U_LEAKAGE_S = 2e-13;

  private final UnitDeviationModel model;
  private final CauseInferenceProblem problem;
  private final List<Extra> extras = new ArrayList<>();
  private final Map<Extra, CorrelatedErrorWhitener> metrics = new HashMap<>();

  /**
   * What could still be measured.
   *
   * @param seen the currents that were observed
   */
  DiscriminatingMeasurement(
      UnitDeviationModel model,
      CauseInferenceProblem problem,
      List<CauseObservation.OfCurrent> seen) {
    this.model = model;
    this.problem = problem;
    Set<String> ranges = new LinkedHashSet<>();
    seen.forEach(o -> ranges.add(o.range()));
    String meter = seen.stream().map(CauseObservation.OfCurrent::meter).findFirst().orElse("");
    withoutVoltmeter(seen);
    unseenRanges(ranges, meter);
    hotterAndHigher(seen);
    byHand(seen);
  }

  private void unseenRanges(Set<String> seen, String meter) {
    for (RangeCircuitModel r : model.circuit().ranges()) {
      if (!seen.contains(r.design().name())) {
        String set = QuantityText.print(r.design().setVoltageV(), Dimension.VOLTAGE, 4);
        extras.add(
            new Extra(
                "measure range " + r.design().name() + ", whose set voltage is " + set,
                model.current(r, 0, model.circuit().referenceDegC(), meter),
                U_RELATIVE));
      }
    }
  }

  /**
   * Adds measurements at higher temperature and voltage, on the smallest current: absolute errors
   * show most there.
   */
  private void hotterAndHigher(List<CauseObservation.OfCurrent> seen) {
    Optional<CauseObservation.OfCurrent> smallest =
        seen.stream().min(Comparator.comparingDouble(o -> Math.abs(o.current().value())));
    if (smallest.isEmpty()) {
      return;
    }
    RangeCircuitModel range = model.circuit().range(smallest.get().range()).orElseThrow();
    String meter = smallest.get().meter();
    double most = seen.stream().mapToDouble(CauseObservation.OfCurrent::terminalV).max().orElse(0);
    double hot = seen.stream().mapToDouble(CauseObservation.OfCurrent::degC).max().orElse(0);
    double reach = range.headroomV(new double[model.size()]).map(h -> 0.7 * h).orElse(most + 5);
    if (reach > 1.2 * most) {
      extras.add(
          new Extra(
              "measure range %s at a terminal voltage of %s"
                  .formatted(smallest.get().range(), volts(reach)),
              model.current(range, reach, hot, meter),
              U_RELATIVE));
    }
    double hotter = hot + 25;
    extras.add(
        new Extra(
            "raise the temperature to %s with range %s at %s"
                .formatted(
                    QuantityText.print(hotter, Dimension.TEMPERATURE, 3),
                    smallest.get().range(),
                    volts(Math.max(most, reach))),
            model.current(range, Math.max(most, reach), hotter, meter),
            U_RELATIVE));
  }

  private static String volts(double v) {
    return QuantityText.print(v, Dimension.VOLTAGE, 2);
  }

  private void byHand(List<CauseObservation.OfCurrent> seen) {
    for (RangeCircuitModel r : model.circuit().ranges()) {
      reference(r.design());
    }
    seen.stream()
        .findFirst()
        .flatMap(o -> model.circuit().range(o.range()))
        .ifPresent(this::otherMeter);
    model.circuit().ranges().forEach(this::held);
    model.circuit().ranges().forEach(this::resistance);
    model.circuit().ranges().forEach(r -> voltages(r.design()));
    model.circuit().ranges().forEach(r -> output(r.design()));
  }

  private void add(String words, UnitModelOutput observable, double u) {
    if (extras.stream().noneMatch(e -> e.words().equals(words))) {
      extras.add(new Extra(words, observable, u));
    }
  }

  private int place(Kind kind, String of) {
    return model.circuit().indexOf(kind, of);
  }

  private void reference(RangeDesign r) {
    int i = place(Kind.REFERENCE, r.reference().name());
    add("measure the reference voltage of " + r.reference().name(), x -> x[i], U_RELATIVE);
    int tempco = place(Kind.REFERENCE_TEMPCO, r.reference().name());
    add(
        "measure the reference voltage of %s cold and hot".formatted(r.reference().name()),
        x -> x[tempco],
        U_PER_K);
  }

  /** Adds the current without the voltmeter, where the voltmeter's input can be the cause. */
  private void withoutVoltmeter(List<CauseObservation.OfCurrent> seen) {
    boolean upstream =
        model.candidates().stream().anyMatch(c -> c.kind() == ErrorCause.VOLTMETER_INPUT);
    if (upstream) {
      seen.stream()
          .max(Comparator.comparingDouble(CauseObservation.OfCurrent::terminalV))
          .ifPresent(
              o ->
                  add(
                      "disconnect the voltmeter and measure range %s at %s again"
                          .formatted(o.range(), volts(o.terminalV())),
                      model.current(
                          model.circuit().range(o.range()).orElseThrow(),
                          o.terminalV(),
                          o.degC(),
                          ""),
                      U_RELATIVE));
    }
  }

  private void otherMeter(RangeCircuitModel r) {
    add(
        "measure with another meter, or check this one against a known resistor",
        model.current(r, 0, model.circuit().referenceDegC(), ""),
        U_RELATIVE);
  }

  private void held(RangeCircuitModel r) {
    double degC = model.circuit().referenceDegC();
    add(
        "measure the voltage across " + r.design().resistor().name(),
        x -> Math.log(Math.max(1e-9, r.heldV(0, degC, x))),
        U_RELATIVE);
  }

  private void resistance(RangeCircuitModel r) {
    double degC = model.circuit().referenceDegC();
    add(
        "measure the resistance of " + r.design().resistor().name(),
        x -> Math.log(Math.max(1e-9, r.resistanceOhm(degC, x))),
        U_RELATIVE);
    add(
        "measure the resistance of " + r.design().resistor().name() + " cold and hot",
        x -> Math.log(r.resistanceOhm(degC + 1, x) / r.resistanceOhm(degC, x)),
        U_PER_K);
  }

  private void voltages(RangeDesign r) {
    r.amplifier().map(DesignPart::name).ifPresent(this::inputs);
    r.supply()
        .map(DesignPart::name)
        .ifPresent(
            s -> {
              int i = place(Kind.SUPPLY, s);
              add("measure the supply voltage of " + s, x -> x[i], U_VOLTAGE_V);
            });
    for (DesignPart.SeriesDrop d : r.series()) {
      int i = place(Kind.SERIES_DROP, d.name());
      add("measure the voltage across " + d.name(), x -> x[i], U_VOLTAGE_V);
    }
  }

  private void output(RangeDesign r) {
    r.passDevice()
        .filter(q -> q.beta().isPresent())
        .ifPresent(
            q -> {
              int i = place(Kind.BASE_LOSS, q.name());
              add("measure the base current of " + q.name(), x -> x[i], U_LOSS);
            });
    r.leakage()
        .ifPresent(
            l -> {
              int i = place(Kind.LEAKAGE, l.name());
              add("measure the leakage of the output with the source off", x -> x[i], U_LEAKAGE_S);
            });
  }

  private void inputs(String amplifier) {
    int offset = place(Kind.OFFSET, amplifier);
    int bias = place(Kind.BIAS, amplifier);
    add("measure the input offset of " + amplifier, x -> x[offset], U_OFFSET_V);
    add("measure the input current of " + amplifier, x -> x[bias], U_BIAS_A);
    int drift = place(Kind.DRIFT, amplifier);
    add("measure the input offset of " + amplifier + " cold and hot", x -> x[drift], U_DRIFT);
  }

  /**
   * The measurements that separate all of a set, chosen greedily to be few.
   *
   * @param fits one explanation per member of the set
   * @param members the member that each explanation is about
   * @param gain by how much of chi^2 the data ask for a cause
   * @return what to do; empty if nothing that could be measured separates all of them
   */
  Optional<String> of(List<CauseFit> fits, List<CauseCandidate> members, double gain) {
    double enough = Math.min(APART, OF_EVIDENCE * Math.sqrt(gain));
    Set<List<Integer>> open = new LinkedHashSet<>();
    for (int i = 0; i < fits.size(); i++) {
      for (int j = i + 1; j < fits.size(); j++) {
        open.add(List.of(i, j));
      }
    }
    List<String> chosen = new ArrayList<>();
    while (!open.isEmpty()) {
      Set<List<Integer>> most = Set.of();
      String words = "";
      for (Extra extra : extras) {
        Set<List<Integer>> solved = solved(open, new Compared(fits, members, enough), extra);
        if (solved.size() > most.size()) {
          most = solved;
          words = extra.words();
        }
      }
      if (most.isEmpty()) {
        return Optional.empty();
      }
      open.removeAll(most);
      chosen.add(words);
    }
    return Optional.of(String.join("; then ", chosen));
  }

  /** The members of a set with their explanations. */
  private record Compared(List<CauseFit> fits, List<CauseCandidate> members, double enough) {
    boolean apart(
        CauseInferenceProblem problem,
        int truth,
        int other,
        Extra extra,
        CorrelatedErrorWhitener metric) {
      return problem.apart(fits.get(truth), fits.get(other), members.get(other), extra, metric)
          >= enough;
    }
  }

  private Set<List<Integer>> solved(Set<List<Integer>> open, Compared compared, Extra extra) {
    Set<List<Integer>> solved = new LinkedHashSet<>();
    CorrelatedErrorWhitener metric = metrics.computeIfAbsent(extra, problem::with);
    for (List<Integer> pair : open) {
      int i = pair.get(0);
      int j = pair.get(1);
      if (compared.apart(problem, i, j, extra, metric)
          && compared.apart(problem, j, i, extra, metric)) {
        solved.add(pair);
      }
    }
    return solved;
  }
}
