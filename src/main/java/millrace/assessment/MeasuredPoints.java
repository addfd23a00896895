// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.basis.SharedRunInputs;
import millrace.assessment.noise.NoiseRecords;
import millrace.assessment.noise.ReadingNoise;
import millrace.assessment.reduction.BenchReadingReduction;
import millrace.assessment.reduction.ImportedReadingReduction;
import millrace.assessment.reduction.LocalLoadSlopes;
import millrace.assessment.reduction.ReadingReduction;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.screening.WithdrawnPoints;
import millrace.assessment.tally.PointReadingTally;
import millrace.assessment.tally.RunReadingTallies;
import millrace.evidence.PointKind;
import millrace.logbook.RunReader;

/**
 * The points of a run, reduced to currents at voltages, for computation by other programs. Errors
 * shared within a zero or a stay at a temperature count as point-wise here, since a table of points
 * has room for one common error only (methods.md 2.3).
 */
public final class MeasuredPoints {
  private static final Set<String> COMMON =
      Set.of(ErrorSource.RUN, ErrorSource.INSTRUMENT_AND_RANGE);

  private MeasuredPoints() {}

  /**
   * Reduces the measured points of a run on a bench, real or simulated.
   *
   * @param reader the run
   * @return in the order of taking; points without a number are left out
   */
  public static List<MeasuredPoint> of(RunReader reader) {
    return of(reader, new SharedRunInputs());
  }

  /**
   * Reduces the measured points of one of several runs.
   *
   * @param reader the run
   * @param shared what it has in common with the others
   * @return in the order of taking; points without a number are left out
   */
  public static List<MeasuredPoint> of(RunReader reader, SharedRunInputs shared) {
    RunReadingTallies tallies =
        RunReadingTallies.of(reader, WithdrawnPoints.of(reader, new ArrayList<>()));
    List<PointReadingTally> measured = tallies.points(PointKind.MEASURE);
    JudgementBasis basis = Assessor.basis(reader, shared);
    ReadingNoise slow =
        new ReadingNoise(tallies, new NoiseRecords(reader, tallies), basis.referenceDegC());
    ReadingReduction reduction =
        basis
            .bench()
            .<ReadingReduction>map(bench -> new BenchReadingReduction(bench, tallies, slow))
            .orElseGet(() -> new ImportedReadingReduction(measured, slow));
    List<ReducedPoint> reduced = new ArrayList<>();
    measured.forEach(t -> reduction.of(t).ifPresent(reduced::add));
    LocalLoadSlopes slopes = new LocalLoadSlopes(reduced);
    return reduced.stream().map(p -> plain(p, slopes.currentA(p))).toList();
  }

  private static MeasuredPoint plain(ReducedPoint p, Estimate currentA) {
    Optional<Estimate> degC = p.temperatureDegC();
    return new MeasuredPoint(
        p.point(),
        p.timeS(),
        currentA.value(),
        currentA.standardUncertainty(s -> !COMMON.contains(s.group())),
        currentA.standardUncertainty(s -> COMMON.contains(s.group())),
        p.voltageV().value(),
        p.voltageV().standardUncertainty(),
        degC.isPresent() ? OptionalDouble.of(degC.get().value()) : OptionalDouble.empty(),
        degC.map(Estimate::standardUncertainty).orElse(0.0));
  }
}
