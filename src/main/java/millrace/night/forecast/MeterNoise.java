// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.bench.BenchFile;
import millrace.bench.RoleFacts;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;

/** The noise of meters: the value in a bench file, else the usual value. Stateless. */
public final class MeterNoise {
  /**
   * Root mean square of readings of one line cycle, in steps, without a stated value. The last
   * digit of a meter is about the noise of its longest usual integration, ten line cycles; the
   * noise of one cycle is larger by the root of ten (common practice, no source).
   */
  private static final double USUAL_STEPS = 3;

  private static final Set<RoleName> METERS =
      Set.of(RoleName.CURRENT_METER, RoleName.SHUNT_VOLTMETER, RoleName.VOLTMETER);

  private MeterNoise() {}

  /**
   * The meters whose noise a bench file does not state.
   *
   * @param file the bench file
   * @return names of instruments, each once; empty where all noise is stated
   */
  public static List<String> unstated(BenchFile file) {
    return file.instruments().values().stream()
        .filter(
            entry ->
                entry.roles().entrySet().stream()
                    .anyMatch(e -> METERS.contains(e.getKey()) && !isStated(e.getValue())))
        .map(BenchFile.Entry::name)
        .toList();
  }

  private static boolean isStated(RoleFacts facts) {
    return !facts.accuracy().isEmpty()
        && facts.accuracy().stream().allMatch(a -> a.noise().isPresent());
  }

  /** Standard deviation of a reading of one line cycle, A or V. */
  static double ofOneCycle(BenchFile file, RoleName role, MeterRange range) {
    Optional<Double> stated =
        file.facts(role)
            .flatMap(facts -> facts.forRange(range.fullScale()))
            .flatMap(AccuracyStatement::noise);
    return stated
        .map(ofFullScale -> ofFullScale * range.fullScale())
        .orElse(USUAL_STEPS * range.resolution());
  }
}
