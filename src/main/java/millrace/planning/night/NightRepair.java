// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.ResultConditionKey;
import millrace.planning.LimitForecast;

/**
 * Corrects a night that was found with one draw of the noise, by nights with more draws: gives back
 * what a range turns out to need. Single-threaded.
 */
final class NightRepair {
  private static final int MOST_ROUNDS = 8;

  /** The largest factor by which readings grow at once. */
  private static final double MOST_TIMES = 1.5;

  /** A unit that comes from another temperature may be so far from that of the chamber, K. */
  private static final double NEAR_K = 1;

  private static final List<NightLever> AWAY =
      List.of(NightLever.ENDS, NightLever.BETWEEN, NightLever.LOADS, NightLever.SWEEP);
  private static final List<NightLever> AT_REFERENCE = List.of(NightLever.LOADS, NightLever.SWEEP);

  private final NightTrials trials;
  private final WantedUncertainties wanted;

  NightRepair(NightTrials trials, WantedUncertainties wanted) {
    this.trials = trials;
    this.wanted = wanted;
  }

  /**
   * The same night computed with more draws; where it then misses a limit its range gets readings
   * back, by the square of the ratio of U, and if that does not help, loads.
   */
  TriedNight sure(TriedNight found) {
    TriedNight night = trials.sure(withoutCost(found.design()));
    Map<String, Integer> given = new HashMap<>();
    List<LimitForecast> missed = wanted.missed(night);
    for (int round = 0;
        !missed.isEmpty() && round < MOST_ROUNDS && trials.mayGoOn();
        missed = wanted.missed(night), round++) {
      NightDesign design = night.design();
      for (String range : design.scope().ranges()) {
        Optional<LimitForecast> worst =
            missed.stream()
                .filter(l -> NightChanges.isOf(l, range))
                .max(Comparator.comparingDouble(wanted::ratio));
        if (worst.isPresent()) {
          design = givenBack(design, range, worst.get(), given.merge(range, 1, Integer::sum));
        }
      }
      if (design.equals(night.design())) {
        return night;
      }
      night = trials.sure(design);
    }
    return night;
  }

  private double times(LimitForecast limit) {
    double ratio = wanted.ratio(limit);
    return Math.min(MOST_TIMES, ratio * ratio);
  }

  /** Readings, and every second time loads where the limit counts. */
  private NightDesign givenBack(NightDesign design, String range, LimitForecast worst, int time) {
    Optional<NightDesign> more =
        readingsThere(design, range, worst).or(() -> readings(design, range, worst));
    boolean away = worst.result().judgement().orElseThrow().when().temperatureDegC().isPresent();
    Optional<NightDesign> loads =
        (away ? AWAY : AT_REFERENCE)
            .stream()
                .flatMap(lever -> design.more(new NightAmount(lever, Optional.of(range))).stream())
                .findFirst();
    return (time % 2 == 1 ? more.or(() -> loads) : loads.or(() -> more)).orElse(design);
  }

  private Optional<NightDesign> readings(NightDesign design, String range, LimitForecast worst) {
    return design
        .more(new NightAmount(NightLever.READINGS, Optional.of(range)))
        .map(
            one -> {
              NightDesign many = design.withReadings(range, times(worst));
              return many.readings(range) > one.readings(range) ? many : one;
            });
  }

  /** Readings at the temperature between alone, where the limit is missed there. */
  private static Optional<NightDesign> readingsThere(
      NightDesign design, String range, LimitForecast worst) {
    OptionalDouble degC = worst.result().at().number(ResultConditionKey.TEMPERATURE_DEGC);
    boolean near =
        degC.isPresent()
            && design
                .scope()
                .betweenDegC()
                .filter(t -> Math.abs(t - degC.getAsDouble()) <= NEAR_K)
                .isPresent();
    return near
        ? design.more(new NightAmount(NightLever.NEAR, Optional.of(range)))
        : Optional.empty();
  }

  /** The same night with every amount that takes no time. */
  private NightDesign withoutCost(NightDesign from) {
    NightDesign design = from;
    for (NightAmount amount : from.steps().keySet()) {
      for (Optional<NightDesign> more = design.more(amount);
          more.isPresent()
              && trials.hours(more.get()) - trials.hours(from) < NightReduction.SECOND_H;
          more = design.more(amount)) {
        design = more.get();
      }
    }
    return design;
  }
}
