package millrace.assessment;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.analysis.causes.Diagnosis;
import millrace.analysis.causes.Observation;
import millrace.analysis.design.Circuit;
import millrace.analysis.design.Piece;
import millrace.analysis.design.RangeDesign;
import millrace.analysis.load.Crossing;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadCurve.Mean;
import millrace.analysis.load.LoadCurve.Standing;
import millrace.analysis.load.LoadResults;
import millrace.analysis.temperature.TemperaturePoint;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Source;

/**
 * From what was found about a run to where its errors come from (measurement.md 9): a few loads of
 * every plateau, the compliance voltages that were reached, and the currents of ranges that were
 * measured at one load only.
 */
public final class CausesOf {
  private static final String METER = "current meter";

  /** More loads of one plateau would say the same again. */
  private static final int LOADS = 4;

  /** A current below this share of that into a short has fallen, whatever the line says. */
  private static final double HELD = 0.98;

  /** How near to the design's supply the supply must be. */
  private static final double NEAR = 0.02;

  private final Assessment assessment;
  private final Circuit circuit;
  private final List<Observation> observations = new ArrayList<>();

  private CausesOf(Assessment assessment, Circuit circuit) {
    this.assessment = assessment;
    this.circuit = circuit;
  }

  /**
   * The causes of a unit's errors.
   *
   * @param assessment what was found
   * @return the diagnosis; empty where no range of the datasheet says what it is made from
   */
  public static Optional<Diagnosis> of(Assessment assessment) {
    return assessment
        .basis()
        .datasheet()
        .flatMap(DesignOf::of)
        .map(circuit -> new CausesOf(assessment, circuit).diagnosis());
  }

  private Diagnosis diagnosis() {
    Set<String> swept = new HashSet<>();
    for (Assessment.LoadStudy study : assessment.loads()) {
      swept.add(study.range());
      if (usualSupply(study)) {
        plateau(study);
      }
    }
    swept.forEach(this::compliance);
    assessment.temperatures().stream()
        .filter(t -> !swept.contains(t.range()))
        .forEach(t -> t.study().points().forEach(p -> stay(t.range(), p)));
    return Diagnosis.of(circuit, observations, assessment.basis().coverage());
  }

  private boolean usualSupply(Assessment.LoadStudy study) {
    Optional<Double> designed =
        design(study.range()).flatMap(RangeDesign::supply).map(Piece.Supply::voltageV);
    return study.supplyV().isEmpty()
        || designed.isEmpty()
        || Math.abs(study.supplyV().getAsDouble() / designed.get() - 1) < NEAR;
  }

  private Optional<RangeDesign> design(String range) {
    return circuit.range(range).map(r -> r.design());
  }

  private double degC(Assessment.LoadStudy study) {
    return study.temperatureDegC().orElse(circuit.referenceDegC());
  }

  private void plateau(Assessment.LoadStudy study) {
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
          new Observation.OfCurrent(study.range(), volts, degC(study), mean.currentA(), METER));
    }
  }

  private void stay(String range, TemperaturePoint point) {
    double load = design(range).map(RangeDesign::loadOhm).orElse(0.0);
    observations.add(
        new Observation.OfCurrent(
            range,
            Math.abs(point.currentA().value()) * load,
            point.temperatureDegC().value(),
            point.currentA(),
            METER));
  }

  /** The compliance voltage of the stay that is nearest to the reference temperature. */
  private void compliance(String range) {
    assessment.loads().stream()
        .filter(s -> s.range().equals(range) && usualSupply(s))
        .filter(s -> s.curve().crossing().isPresent())
        .min(Comparator.comparingDouble(s -> Math.abs(degC(s) - circuit.referenceDegC())))
        .map(Assessment.LoadStudy::curve)
        .flatMap(LoadCurve::crossing)
        .ifPresent(c -> observations.add(new Observation.OfCompliance(range, volts(range, c))));
  }

  private static Estimate volts(String range, Crossing crossing) {
    double half = (crossing.highV() - crossing.lowV()) / 2;
    double u = Math.max(crossing.lowU(), crossing.highU());
    return Estimate.exact(crossing.valueV())
        .with(Source.within(LoadResults.ENCLOSURE, Source.POINT, range, half, "V"), 1)
        .with(Source.normal("ends of the enclosure", Source.POINT, range, u, "V"), 1);
  }
}
