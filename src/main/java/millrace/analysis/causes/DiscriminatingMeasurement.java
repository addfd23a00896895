// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.analysis.causes.CauseInferenceProblem.Extra;
import millrace.analysis.causes.FurtherMeasurement.ByHand;
import millrace.analysis.causes.FurtherMeasurement.OfCurrent;
import millrace.analysis.design.DesignDeviation.Kind;
import millrace.analysis.design.DesignPart;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.design.RangeDesign;
import millrace.evidence.part.AskedPartValue;
import millrace.evidence.part.PartQuantity;
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
  private static final double U_LEAKAGE = 0.05;

  /** How far apart cold and hot are for what a person measures, K. */
  private static final double SPAN_K = 25;

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
        add(
            new OfCurrent(
                "measure range " + r.design().name() + ", whose set voltage is " + set,
                r.design().name(),
                0,
                model.circuit().referenceDegC()),
            meter);
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
      add(
          new OfCurrent(
              "measure range %s at a terminal voltage of %s"
                  .formatted(smallest.get().range(), volts(reach)),
              smallest.get().range(),
              reach,
              hot),
          meter);
    }
    double hotter = hot + SPAN_K;
    add(
        new OfCurrent(
            "raise the temperature to %s with range %s at %s"
                .formatted(
                    QuantityText.print(hotter, Dimension.TEMPERATURE, 3),
                    smallest.get().range(),
                    volts(Math.max(most, reach))),
            smallest.get().range(),
            Math.max(most, reach),
            hotter),
        meter);
  }

  /** A current that the same meter measures. */
  private void add(OfCurrent what, String meter) {
    RangeCircuitModel range = model.circuit().range(what.range()).orElseThrow();
    extras.add(
        new Extra(what, model.current(range, what.terminalV(), what.degC(), meter), U_RELATIVE));
  }

  private static String volts(double v) {
    return QuantityText.print(v, Dimension.VOLTAGE, 2);
  }

  private void byHand(List<CauseObservation.OfCurrent> seen) {
    for (RangeCircuitModel r : model.circuit().ranges()) {
      reference(r.design());
    }
    seen.stream()
        .max(Comparator.comparingDouble(o -> Math.abs(o.current().value())))
        .flatMap(o -> model.circuit().range(o.range()))
        .ifPresent(this::otherMeter);
    model.circuit().ranges().forEach(this::held);
    model.circuit().ranges().forEach(this::resistance);
    model.circuit().ranges().forEach(r -> voltages(r.design()));
    model.circuit().ranges().forEach(r -> output(r.design()));
  }

  private void add(ByHand what, UnitModelOutput observable, double u) {
    if (extras.stream().noneMatch(e -> e.words().equals(what.words()))) {
      extras.add(new Extra(what, observable, u));
    }
  }

  /** A value that is known as a share of itself. */
  private ByHand relative(String words, PartQuantity quantity, String of) {
    return byHand(words, new AskedPartValue(quantity, of, U_RELATIVE, 0, OptionalDouble.empty()));
  }

  private ByHand absolute(String words, PartQuantity quantity, String of, double u) {
    return byHand(words, new AskedPartValue(quantity, of, 0, u, OptionalDouble.empty()));
  }

  private ByHand byHand(String words, AskedPartValue asked) {
    return new ByHand(words, asked, List.of(model.circuit().referenceDegC()));
  }

  /** The same value at two temperatures. */
  private ByHand coldAndHot(ByHand once) {
    double cold = model.circuit().referenceDegC();
    return new ByHand(once.words() + " cold and hot", once.asked(), List.of(cold, cold + SPAN_K));
  }

  private int place(Kind kind, String of) {
    return model.circuit().indexOf(kind, of);
  }

  private void reference(RangeDesign r) {
    int i = place(Kind.REFERENCE, r.reference().name());
    String of = r.reference().name();
    ByHand once = relative("measure the reference voltage of " + of, PartQuantity.VOLTAGE, of);
    add(once, x -> x[i], U_RELATIVE);
    int tempco = place(Kind.REFERENCE_TEMPCO, of);
    add(coldAndHot(once), x -> x[tempco], U_PER_K);
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
                      byHand(
                          "disconnect the voltmeter and measure range %s at %s again"
                              .formatted(o.range(), volts(o.terminalV())),
                          new AskedPartValue(
                              PartQuantity.CURRENT,
                              o.range(),
                              U_RELATIVE,
                              0,
                              OptionalDouble.of(o.terminalV()))),
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
        relative(
            "measure with another meter, or check this one against a known resistor",
            PartQuantity.CURRENT,
            r.design().name()),
        model.current(r, 0, model.circuit().referenceDegC(), ""),
        U_RELATIVE);
  }

  private void held(RangeCircuitModel r) {
    double degC = model.circuit().referenceDegC();
    String of = r.design().resistor().name();
    add(
        relative("measure the voltage across " + of, PartQuantity.VOLTAGE, of),
        x -> Math.log(Math.max(1e-9, r.heldV(0, degC, x))),
        U_RELATIVE);
  }

  private void resistance(RangeCircuitModel r) {
    double degC = model.circuit().referenceDegC();
    String of = r.design().resistor().name();
    ByHand once = relative("measure the resistance of " + of, PartQuantity.RESISTANCE, of);
    add(once, x -> Math.log(Math.max(1e-9, r.resistanceOhm(degC, x))), U_RELATIVE);
    add(
        coldAndHot(once),
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
              add(
                  absolute(
                      "measure the supply voltage of " + s, PartQuantity.VOLTAGE, s, U_VOLTAGE_V),
                  x -> x[i],
                  U_VOLTAGE_V);
            });
    for (DesignPart.SeriesDrop d : r.series()) {
      int i = place(Kind.SERIES_DROP, d.name());
      add(
          absolute(
              "measure the voltage across " + d.name(),
              PartQuantity.VOLTAGE,
              d.name(),
              U_VOLTAGE_V),
          x -> x[i],
          U_VOLTAGE_V);
    }
  }

  private void output(RangeDesign r) {
    r.passDevice()
        .filter(q -> q.beta().isPresent())
        .ifPresent(
            q -> {
              int i = place(Kind.BASE_LOSS, q.name());
              add(
                  absolute(
                      "measure the base current of " + q.name(),
                      PartQuantity.BASE_SHARE,
                      q.name(),
                      U_LOSS),
                  x -> x[i],
                  U_LOSS);
            });
    r.leakage()
        .ifPresent(
            l -> {
              int i = place(Kind.LEAKAGE, l.name());
              add(
                  byHand(
                      "measure the leakage of the output with the source off",
                      new AskedPartValue(
                          PartQuantity.RESISTANCE, l.name(), U_LEAKAGE, 0, OptionalDouble.empty())),
                  x -> x[i],
                  U_LEAKAGE_S);
            });
  }

  private void inputs(String amplifier) {
    int offset = place(Kind.OFFSET, amplifier);
    int bias = place(Kind.BIAS, amplifier);
    ByHand once =
        absolute(
            "measure the input offset of " + amplifier,
            PartQuantity.INPUT_OFFSET,
            amplifier,
            U_OFFSET_V);
    add(once, x -> x[offset], U_OFFSET_V);
    add(
        absolute(
            "measure the input current of " + amplifier,
            PartQuantity.INPUT_CURRENT,
            amplifier,
            U_BIAS_A),
        x -> x[bias],
        U_BIAS_A);
    int drift = place(Kind.DRIFT, amplifier);
    add(coldAndHot(once), x -> x[drift], U_DRIFT);
  }

  /**
   * The measurements that separate all of a set, chosen greedily to be few.
   *
   * @param pairs explanations that are not told apart
   * @return what to do; empty if nothing that could be measured separates all of them
   */
  Optional<String> of(List<RivalPair> pairs) {
    Set<RivalPair> open = new LinkedHashSet<>(pairs);
    List<String> chosen = new ArrayList<>();
    while (!open.isEmpty()) {
      Set<RivalPair> most = Set.of();
      String words = "";
      for (Extra extra : extras) {
        Set<RivalPair> solved = solved(open, extra);
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

  /** Each measurement that separates any of some pairs, with those that it separates. */
  Map<FurtherMeasurement, Set<RivalPair>> each(List<RivalPair> pairs) {
    Map<FurtherMeasurement, Set<RivalPair>> each = new LinkedHashMap<>();
    for (Extra extra : extras) {
      Set<RivalPair> solved = solved(new LinkedHashSet<>(pairs), extra);
      if (!solved.isEmpty()) {
        each.put(extra.what(), solved);
      }
    }
    return each;
  }

  private Set<RivalPair> solved(Set<RivalPair> open, Extra extra) {
    CorrelatedErrorWhitener metric = metrics.computeIfAbsent(extra, problem::with);
    Set<RivalPair> solved = new LinkedHashSet<>();
    for (RivalPair pair : open) {
      if (apart(pair, extra, metric) && apart(pair.swapped(), extra, metric)) {
        solved.add(pair);
      }
    }
    return solved;
  }

  private boolean apart(RivalPair pair, Extra extra, CorrelatedErrorWhitener metric) {
    return problem.apart(pair.one().fit(), pair.other(), extra, metric)
        >= Math.min(APART, OF_EVIDENCE * Math.sqrt(pair.gain()));
  }
}
