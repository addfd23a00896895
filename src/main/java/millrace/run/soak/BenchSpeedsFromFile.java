// SPDX-License-Identifier: Apache-2.0
package millrace.run.soak;

import java.util.Comparator;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.BenchFile;
import millrace.bench.CableChargeTime;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.sequence.BenchSpeeds;
import millrace.sequence.BenchSpeeds.ReadingScatter;

/** How fast a bench is, from its file. */
public final class BenchSpeedsFromFile {
  /** Transfer of a reading over a link (common practice, no source); a simulation has none. */
  private static final double PER_READING_S = 0.01;

  /** White noise of a unit over 1 s, a ratio (methods.md 12: assumed). */
  private static final double UNIT = 0.4e-6;

  private BenchSpeedsFromFile() {}

  /**
   * The speeds of a bench.
   *
   * @param bench states the fastest ramp of its chamber, the bound on its rate of change, the noise
   *     of its meters and its cable
   * @return its pace
   */
  public static BenchSpeeds of(BenchFile bench) {
    return new BenchSpeeds(
        bench.lineFrequencyHz(),
        bench.mostRampKPerS(),
        bench.simulated() ? 0 : PER_READING_S,
        new StatedScatter(bench),
        ohm -> CableChargeTime.seconds(bench.wiring(), ohm),
        OptionalDouble.empty());
  }

  /**
   * The statement of the current meter's range for a current: the smallest that takes it, else the
   * one for all ranges.
   *
   * @param bench the bench file
   * @param nominalA the current, A, of either sign
   * @return the statement; empty where the file has none
   */
  public static Optional<AccuracyStatement> meterFor(BenchFile bench, double nominalA) {
    return bench.facts(RoleName.CURRENT_METER).stream()
        .flatMap(facts -> facts.accuracy().stream())
        .filter(a -> a.fullScale().orElse(Double.MAX_VALUE) >= Math.abs(nominalA))
        .min(Comparator.comparingDouble(a -> a.fullScale().orElse(Double.MAX_VALUE)));
  }

  /** The noise that a bench file states of its current meter, and the usual noise of a unit. */
  private record StatedScatter(BenchFile bench) implements ReadingScatter {
    @Override
    public OptionalDouble ofMeterA(double nominalA, double lineCycles) {
      return meterFor(bench, nominalA)
          .filter(a -> a.noise().isPresent())
          .map(
              a ->
                  OptionalDouble.of(
                      a.noise().get()
                          * a.fullScale().orElse(Math.abs(nominalA))
                          / Math.sqrt(lineCycles)))
          .orElseGet(OptionalDouble::empty);
    }

    @Override
    public double ofUnit(String range, double seconds) {
      return UNIT / Math.sqrt(seconds);
    }
  }
}
