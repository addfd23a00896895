// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.analysis.causes.CauseDiagnoser;
import millrace.analysis.causes.CauseObservation;
import millrace.analysis.causes.CauseStudy;
import millrace.analysis.causes.ErrorCauseDiagnosis;
import millrace.analysis.design.DesignCircuit;
import millrace.analysis.design.DesignPart;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.design.RangeDesign;
import millrace.analysis.load.ComplianceCrossing;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadCurve.Mean;
import millrace.analysis.load.LoadCurve.Standing;
import millrace.analysis.load.LoadResults;
import millrace.analysis.temperature.TemperaturePoint;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.design.DesignFromDatasheet;
import millrace.assessment.range.LoadSweepStudy;
import millrace.assessment.range.RangeTemperatureStudy;
import millrace.bench.BenchFile;
import millrace.datasheet.DatasheetPart;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.evidence.RunOrigin;
import millrace.evidence.part.PartValue;
import millrace.logbook.RunStart;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * Diagnoses the causes of a unit's errors from an assessment (methods.md 9). The evidence is a few
 * loads of every plateau, the compliance voltages that were reached, and the currents of ranges
 * measured at one load only.
 */
public final class RunCauseDiagnosis {
  private static final String METER = "current meter";

  /** More loads of one plateau add no information. */
  private static final int LOADS = 4;

  /**
   * A current below this share of the short-circuit current counts as fallen, whatever the line
   * gives.
   */
  private static final double HELD = 0.98;

  private static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

  /** Results computed from more than one stay. */
  private static final Set<ResultQuantity> OVER_THE_RUN =
      EnumSet.of(
          ResultQuantity.TEMPCO,
          ResultQuantity.TEMPCO_BOX,
          ResultQuantity.TEMPCO_COLD,
          ResultQuantity.TEMPCO_HOT,
          ResultQuantity.TEMPCO_QUADRATIC_A,
          ResultQuantity.TEMPCO_QUADRATIC_B,
          ResultQuantity.TURNOVER,
          ResultQuantity.THERMAL_HYSTERESIS,
          ResultQuantity.TRACKING,
          ResultQuantity.CURRENT_ERROR);

  /** Largest allowed deviation of the supply from the design's supply. */
  private static final double NEAR = 0.02;

  private final Assessment assessment;
  private final DesignCircuit circuit;
  private final List<CauseObservation> observations = new ArrayList<>();

  private RunCauseDiagnosis(Assessment assessment, DesignCircuit circuit) {
    this.assessment = assessment;
    this.circuit = circuit;
  }

  /**
   * One of several runs of the same unit.
   *
   * @param assessment its assessment
   * @param sameInstruments whether it used the instruments of the first run, and so shares their
   *     errors
   */
  public record Joined(Assessment assessment, boolean sameInstruments) {}

  /**
   * The causes of a unit's errors.
   *
   * @param assessment the assessment
   * @return the diagnosis; empty if no range of the datasheet states its parts
   */
  public static Optional<ErrorCauseDiagnosis> of(Assessment assessment) {
    return circuit(assessment)
        .map(circuit -> new RunCauseDiagnosis(assessment, circuit).diagnosis());
  }

  /**
   * The evidence of several runs of one unit.
   *
   * @param runs the first run, whose datasheet counts, then the others in any order; not empty
   * @return the evidence; empty if no range of the datasheet states its parts
   */
  public static Optional<CauseStudy.Evidence> evidence(List<Joined> runs) {
    Assessment first = runs.get(0).assessment();
    return circuit(first).map(circuit -> evidence(runs, first, circuit));
  }

  private static CauseStudy.Evidence evidence(
      List<Joined> runs, Assessment first, DesignCircuit circuit) {
    List<CauseObservation> all = new ArrayList<>();
    boolean upstream = false;
    for (Joined run : runs) {
      RunCauseDiagnosis one = new RunCauseDiagnosis(run.assessment(), circuit);
      one.observe();
      upstream |= one.voltmeterUpstream();
      if (run.assessment().equals(first)) {
        all.addAll(one.observations);
      } else {
        OtherRunObservations other =
            new OtherRunObservations(first.run(), run.assessment().run(), run.sameInstruments());
        one.observations.forEach(o -> all.add(other.of(o)));
      }
    }
    return new CauseStudy.Evidence(circuit, all, first.basis().coverage(), upstream);
  }

  private static Optional<DesignCircuit> circuit(Assessment assessment) {
    return assessment.basis().datasheet().flatMap(DesignFromDatasheet::of);
  }

  private ErrorCauseDiagnosis diagnosis() {
    observe();
    ErrorCauseDiagnosis found =
        CauseDiagnoser.of(
            circuit, observations, assessment.basis().coverage(), voltmeterUpstream());
    return found.change().map(c -> withMixed(found)).orElse(found);
  }

  private void observe() {
    Set<String> swept = new HashSet<>();
    for (LoadSweepStudy study : assessment.loads()) {
      swept.add(study.range());
      if (usualSupply(study)) {
        plateau(study);
      }
    }
    swept.forEach(this::compliance);
    assessment.temperatures().stream()
        .filter(t -> !swept.contains(t.range()))
        .forEach(t -> t.study().points().forEach(p -> stay(t, p)));
    assessment.byHand().forEach(p -> observations.add(inDigitsOfTheDesign(p)));
  }

  /** A design identifies a reference by its set voltage, which may be written with fewer digits. */
  private CauseObservation inDigitsOfTheDesign(CauseObservation.OfPart found) {
    PartValue value = found.value();
    Optional<Double> statedV =
        assessment
            .basis()
            .datasheet()
            .map(d -> d.parts().get(value.of()))
            .filter(DatasheetPart.Reference.class::isInstance)
            .map(p -> ((DatasheetPart.Reference) p).valueV());
    Optional<Double> designV =
        circuit.ranges().stream()
            .map(RangeCircuitModel::design)
            .filter(r -> r.reference().name().equals(value.of()))
            .map(r -> r.firstStage().map(DesignPart.FirstStage::referenceV).orElse(r.setVoltageV()))
            .findFirst();
    return statedV.isPresent() && designV.isPresent()
        ? new CauseObservation.OfPart(value.times(designV.get() / statedV.get()), found.timeS())
        : found;
  }

  private boolean voltmeterUpstream() {
    return assessment
        .basis()
        .bench()
        .flatMap(b -> b.wiring().voltmeter())
        .filter(BenchFile.VoltmeterPlace.UPSTREAM::equals)
        .isPresent();
  }

  /** Results computed from readings on both sides of a change. */
  private ErrorCauseDiagnosis withMixed(ErrorCauseDiagnosis found) {
    String mixed =
        assessment.results().stream()
            .map(Result::quantity)
            .filter(OVER_THE_RUN::contains)
            .distinct()
            .map(ResultQuantity::inWords)
            .collect(Collectors.joining(", "));
    List<String> notes = new ArrayList<>(found.notes());
    if (!mixed.isEmpty()) {
      notes.add(
          1,
          "results over both sides of that change mix two states of the unit and hold for neither: %s. What is stated of one visit holds for the unit as it was then. Find the cause, and measure again"
              .formatted(mixed));
    }
    return new ErrorCauseDiagnosis(
        found.causes(), found.explained(), found.unexplained(), found.change(), notes);
  }

  /** When a range was measured during a stay. */
  private Optional<CauseObservation.Moment> when(String range, int stay) {
    return assessment.temperatures().stream()
        .filter(t -> t.range().equals(range))
        .flatMap(t -> t.study().points().stream())
        .filter(p -> p.stay() == stay)
        .findFirst()
        .map(p -> moment(p.timeS()));
  }

  /** By wall clock if the run has a date, else by the time from its start. */
  private CauseObservation.Moment moment(double timeS) {
    RunStart start = assessment.run().start();
    boolean dated = start.origin() != RunOrigin.IMPORTED || start.facts().dated();
    Instant at = start.startedAt().plusMillis(Math.round(timeS * 1e3));
    return new CauseObservation.Moment(
        timeS,
        dated
            ? CLOCK.format(at.atOffset(start.offset()))
            : QuantityText.print(timeS, Dimension.TIME, 4) + " from the start");
  }

  private boolean usualSupply(LoadSweepStudy study) {
    Optional<Double> designed =
        design(study.range()).flatMap(RangeDesign::supply).map(DesignPart.Supply::voltageV);
    return study.supplyV().isEmpty()
        || designed.isEmpty()
        || Math.abs(study.supplyV().getAsDouble() / designed.get() - 1) < NEAR;
  }

  private Optional<RangeDesign> design(String range) {
    return circuit.range(range).map(r -> r.design());
  }

  private double degC(LoadSweepStudy study) {
    return study.temperatureDegC().orElse(circuit.referenceDegC());
  }

  private void plateau(LoadSweepStudy study) {
    double least = HELD * Math.abs(study.curve().shortCurrentA().value());
    List<Mean> plateau =
        study.curve().means().stream()
            .filter(m -> m.standing() == Standing.PLATEAU)
            .filter(m -> Math.abs(m.currentA().value()) > least)
            .toList();
    int n = plateau.size();
    int taken = Math.min(n, LOADS);
    for (int i = 0; i < taken; i++) {
      Mean mean = plateau.get(taken == 1 ? 0 : i * (n - 1) / (taken - 1));
      double volts = Math.abs(mean.voltageV().value());
      observations.add(
          new CauseObservation.OfCurrent(
              study.range(),
              volts,
              degC(study),
              mean.currentA(),
              METER,
              when(study.range(), study.stay())));
    }
  }

  /** At the load of the measurement if there was only one; else at the reference load. */
  private void stay(RangeTemperatureStudy study, TemperaturePoint point) {
    String range = study.range();
    double load = design(range).map(RangeDesign::loadOhm).orElse(0.0);
    double promisedV = Math.abs(point.currentA().value()) * load;
    observations.add(
        new CauseObservation.OfCurrent(
            range,
            study.oneLoadV().orElse(promisedV),
            point.temperatureDegC().value(),
            point.currentA(),
            METER,
            Optional.of(moment(point.timeS()))));
  }

  /** The compliance voltage of the stay that is nearest to the reference temperature. */
  private void compliance(String range) {
    assessment.loads().stream()
        .filter(s -> s.range().equals(range) && usualSupply(s))
        .filter(s -> s.curve().crossing().isPresent())
        .min(Comparator.comparingDouble(s -> Math.abs(degC(s) - circuit.referenceDegC())))
        .map(LoadSweepStudy::curve)
        .flatMap(LoadCurve::crossing)
        .ifPresent(
            c -> observations.add(new CauseObservation.OfCompliance(range, volts(range, c))));
  }

  private static Estimate volts(String range, ComplianceCrossing crossing) {
    double half = (crossing.highV() - crossing.lowV()) / 2;
    double u = Math.max(crossing.lowU(), crossing.highU());
    return Estimate.exact(crossing.valueV())
        .with(ErrorSource.within(LoadResults.ENCLOSURE, ErrorSource.POINT, range, half, "V"), 1)
        .with(ErrorSource.normal("ends of the enclosure", ErrorSource.POINT, range, u, "V"), 1);
  }
}
