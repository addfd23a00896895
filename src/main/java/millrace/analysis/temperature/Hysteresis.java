// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import millrace.analysis.uncertainty.CorrelatedNoise;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;

/**
 * Thermal hysteresis: later minus earlier visit to one temperature on either side of an excursion,
 * ppm of I_ref (methods.md 5.6). A drift is taken off where the visits tell it: by two visits with
 * no excursion between; or by three with a cold and a hot one between, what one takes the other
 * gives back; or by three with like excursions, of which the later leaves nothing new.
 */
final class Hysteresis {
  private static final String METHOD = "later minus earlier visit, Methods of Millrace 5.6";
  private static final String TOGETHER =
      "hysteresis and drift together: two visits with no excursion between would tell them apart";

  private static final double SECONDS_PER_HOUR = 3600;

  private final TemperatureStudy study;
  private final String range;
  private final double coverage;
  private final List<String> notes;

  Hysteresis(TemperatureStudy study, String range, double coverage, List<String> notes) {
    this.study = study;
    this.range = range;
    this.coverage = coverage;
    this.notes = List.copyOf(notes);
  }

  /** Where the unit went between two visits. */
  private enum Excursion {
    NONE,
    COLD,
    HOT,
    FULL;

    String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /** Two visits and where the unit went between. */
  private record Step(TemperaturePoint from, TemperaturePoint to, Excursion excursion) {
    double seconds() {
      return to.timeS() - from.timeS();
    }
  }

  /** A drift and how it was told from hysteresis. */
  private record Drift(Estimate ppmPerS, Set<Excursion> appliesTo, String note) {}

  /** All results at T_ref, then those at the other temperatures that were revisited. */
  List<Result> results() {
    List<Result> all = new ArrayList<>(atReference());
    List<Double> others = new ArrayList<>();
    Set<Double> setpoints = new HashSet<>();
    for (TemperaturePoint p : study.points()) {
      double t = p.temperatureDegC().value();
      boolean fresh = true;
      for (double o : others) {
        fresh &= Math.abs(o - t) > TemperaturePoint.NEAR_K;
      }
      if (fresh && !RelativeTemperatureStays.near(p, study.referenceDegC())) {
        others.add(t);
        // A setpoint that was reached at two temperatures names one result only.
        if (setpoints.add(p.setpointDegC())) {
          all.addAll(elsewhere(p));
        }
      }
    }
    return all;
  }

  private Subject subject(Excursion excursion, Optional<Double> atDegC) {
    ResultConditions at =
        ResultConditions.NONE.with(ResultConditionKey.EXCURSION, excursion.word());
    return new Subject(
        ResultQuantity.THERMAL_HYSTERESIS,
        Optional.of(range),
        atDegC.map(t -> at.with(ResultConditionKey.TEMPERATURE_DEGC, t)).orElse(at),
        Optional.of("I_ref"),
        METHOD,
        coverage);
  }

  private List<Result> atReference() {
    List<TemperaturePoint> visits = study.referenceVisits();
    if (visits.size() < 2) {
      String times = visits.isEmpty() ? "not visited" : "visited once";
      return missing("T_ref %s: hysteresis not measured".formatted(times), visits.size());
    }
    List<Step> steps = steps(study.referenceDegC());
    Set<Excursion> made = EnumSet.noneOf(Excursion.class);
    steps.forEach(s -> made.add(s.excursion()));
    made.remove(Excursion.NONE);
    if (made.isEmpty()) {
      return missing("no other temperature between the visits to T_ref", visits.size());
    }
    Optional<Drift> drift = drift(steps, made);
    List<Result> results = new ArrayList<>();
    made.forEach(e -> results.add(result(first(steps, e), drift, Optional.empty())));
    if (made.contains(Excursion.COLD) && made.contains(Excursion.HOT) && made.size() == 2) {
      results.add(result(whole(steps), drift, Optional.empty()));
    }
    return results;
  }

  private List<Result> missing(String why, int n) {
    return List.of(ResultBuilder.missing(subject(Excursion.FULL, Optional.empty()), why, n));
  }

  private List<Result> elsewhere(TemperaturePoint first) {
    List<Step> steps = steps(first.temperatureDegC().value());
    Set<Excursion> made = EnumSet.noneOf(Excursion.class);
    List<Result> results = new ArrayList<>();
    for (Step step : steps) {
      if (step.excursion() != Excursion.NONE && made.add(step.excursion())) {
        results.add(result(step, Optional.empty(), Optional.of(first.setpointDegC())));
      }
    }
    return results;
  }

  private List<Step> steps(double temperatureDegC) {
    List<Step> steps = new ArrayList<>();
    TemperaturePoint last = null;
    boolean cold = false;
    boolean hot = false;
    for (TemperaturePoint p : study.points()) {
      if (RelativeTemperatureStays.near(p, temperatureDegC)) {
        if (last != null) {
          steps.add(new Step(last, p, excursion(cold, hot)));
        }
        last = p;
        cold = false;
        hot = false;
      } else {
        cold |= p.temperatureDegC().value() < temperatureDegC;
        hot |= p.temperatureDegC().value() > temperatureDegC;
      }
    }
    return steps;
  }

  private static Excursion excursion(boolean cold, boolean hot) {
    if (cold && hot) {
      return Excursion.FULL;
    } else if (cold) {
      return Excursion.COLD;
    }
    return hot ? Excursion.HOT : Excursion.NONE;
  }

  private static Step first(List<Step> steps, Excursion excursion) {
    for (Step step : steps) {
      if (step.excursion() == excursion) {
        return step;
      }
    }
    throw new IllegalArgumentException("no excursion " + excursion);
  }

  /** From before the first excursion to after the first that made both sides complete. */
  private static Step whole(List<Step> steps) {
    Step cold = first(steps, Excursion.COLD);
    Step hot = first(steps, Excursion.HOT);
    boolean coldFirst = steps.indexOf(cold) < steps.indexOf(hot);
    return new Step((coldFirst ? cold : hot).from(), (coldFirst ? hot : cold).to(), Excursion.FULL);
  }

  private Optional<Drift> drift(List<Step> steps, Set<Excursion> made) {
    for (Step step : steps) {
      if (step.excursion() == Excursion.NONE && step.seconds() > 0) {
        return Optional.of(
            new Drift(
                rate(step),
                EnumSet.allOf(Excursion.class),
                "a drift was removed, estimated from two visits with no excursion between"));
      }
    }
    if (made.contains(Excursion.COLD) && made.contains(Excursion.HOT)) {
      return byReturn(whole(steps));
    }
    return byRepeat(steps);
  }

  private Optional<Drift> byReturn(Step whole) {
    return whole.seconds() > 0
        ? Optional.of(
            new Drift(
                rate(whole),
                EnumSet.of(Excursion.COLD, Excursion.HOT),
                "a drift was removed, estimated from three visits: what the cold and the hot"
                    + " excursion do together counts as drift"))
        : Optional.empty();
  }

  private Optional<Drift> byRepeat(List<Step> steps) {
    for (int i = 1; i < steps.size(); i++) {
      Excursion excursion = steps.get(i).excursion();
      Step first = first(steps, excursion);
      if (!first.equals(steps.get(i)) && steps.get(i).seconds() > 0) {
        return Optional.of(
            new Drift(
                rate(steps.get(i)),
                EnumSet.of(excursion),
                "a drift was removed, estimated from three visits: the later excursion counts as"
                    + " leaving nothing new"));
      }
    }
    return Optional.empty();
  }

  private Estimate rate(Step step) {
    return change(step).times(1 / step.seconds());
  }

  private Estimate change(Step step) {
    Estimate plain = study.ppm(step.to()).minus(study.ppm(step.from()));
    return plain.hasUncertainty() && !plain.isDrawn()
        ? study.slope().map(line -> withTemperatures(plain, step, line)).orElse(plain)
        : plain;
  }

  /** The visits are not at quite the same temperature: what the slope makes of that is an error. */
  private static Estimate withTemperatures(Estimate plain, Step step, TemperatureLine line) {
    double slope = line.ppmPerK().value();
    Estimate apart = step.to().temperatureDegC().minus(step.from().temperatureDegC());
    ErrorSource difference =
        ErrorSource.within(
            "temperature of the visits",
            ErrorSource.POINT,
            "stays %s and %s".formatted(step.from().stay(), step.to().stay()),
            Math.abs(apart.value()),
            "K");
    return plain.plus(apart.errorsOnly().times(-slope)).with(difference, slope);
  }

  private Result result(Step step, Optional<Drift> drift, Optional<Double> atDegC) {
    Optional<Drift> usable = drift.filter(d -> d.appliesTo().contains(step.excursion()));
    Estimate together = change(step);
    Estimate value =
        usable.map(d -> together.minus(d.ppmPerS().times(step.seconds()))).orElse(together);
    int n = usable.isPresent() ? 3 : 2;
    if (value.isDrawn()) {
      return ResultBuilder.drawn(subject(step.excursion(), atDegC), value.value(), n);
    }
    List<String> all = new ArrayList<>(notes);
    all.add(usable.map(Drift::note).orElse(TOGETHER));
    return ResultBuilder.value(
            subject(step.excursion(), atDegC), value.forUse(CorrelatedNoise.Use.HYSTERESIS), n, all)
        .by(model(step, usable));
  }

  private MeasurementModel model(Step step, Optional<Drift> drift) {
    MeasurementModel model =
        MeasurementModel.of(
                "H = (I_2 - I_1)/I_ref"
                    + (drift.isPresent() ? " - e h, h the time from I_1 to I_2" : ""))
            .with("I_ref", "A", study.referenceA().value())
            .with("I_1", "A", step.from().currentA().value())
            .with("I_2", "A", step.to().currentA().value())
            .with(
                "T_1, T_2",
                "degC",
                step.from().temperatureDegC().value(),
                step.to().temperatureDegC().value());
    return drift.isEmpty()
        ? model
        : model
            .with("e", "ppm/h", drift.get().ppmPerS().value() * SECONDS_PER_HOUR)
            .with("h", "h", step.seconds() / SECONDS_PER_HOUR);
  }
}
