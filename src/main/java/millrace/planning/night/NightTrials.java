// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.DoubleSupplier;
import java.util.function.Predicate;

/** Computes nights, each once, as long as there is time. Single-threaded. */
final class NightTrials {
  /** The number of draws during the search. */
  private static final int QUICK = 1;

  /** The rest of the time is for nights with more draws. */
  private static final double EARLY = 0.6;

  private final NightForecaster forecaster;
  private final DoubleSupplier timeSpent;
  private final Consumer<TriedNight> seen;
  private final Map<NightDesign, TriedNight> quick = new LinkedHashMap<>();
  private final Map<NightDesign, TriedNight> sure = new LinkedHashMap<>();
  private final Map<NightDesign, Double> hours = new HashMap<>();
  private int draws = NightForecaster.DRAWS;
  private boolean cutShort;

  NightTrials(NightForecaster forecaster, DoubleSupplier timeSpent, Consumer<TriedNight> seen) {
    this.forecaster = forecaster;
    this.timeSpent = timeSpent;
    this.seen = seen;
  }

  /** Sure nights have as many draws as a sequence that they are compared with. */
  void compare() {
    draws = NightForecaster.DRAWS_TO_COMPARE;
  }

  /** A night computed with one draw of the noise. */
  TriedNight quick(NightDesign design) {
    TriedNight known = quick.get(design);
    if (known == null) {
      known = computed(design, QUICK);
      quick.put(design, known);
    }
    return known;
  }

  /** Nights computed with one draw of the noise, side by side. */
  List<TriedNight> quick(List<NightDesign> designs) {
    List<NightDesign> unknown = designs.stream().filter(d -> !quick.containsKey(d)).toList();
    unknown.parallelStream()
        .map(d -> forecast(d, QUICK))
        .toList()
        .forEach(
            night -> {
              seen.accept(night);
              quick.put(night.design(), night);
            });
    return designs.stream().map(quick::get).toList();
  }

  /** A night of which the draw with the middle U counts. */
  TriedNight sure(NightDesign design) {
    TriedNight known = sure.get(design);
    if (known == null) {
      known = computed(design, draws);
      sure.put(design, known);
    }
    return known;
  }

  /** The shortest of the nights with more draws that are good enough. */
  Optional<TriedNight> shortestSure(Predicate<TriedNight> enough) {
    return sure.values().stream().filter(enough).min(Comparator.comparingDouble(TriedNight::hours));
  }

  private TriedNight computed(NightDesign design, int draws) {
    TriedNight night = forecast(design, draws);
    seen.accept(night);
    return night;
  }

  private TriedNight forecast(NightDesign design, int draws) {
    String sequence = NightSequence.of(design);
    return new TriedNight(
        design, sequence, forecaster.secondsByPart(sequence), forecaster.limits(sequence, draws));
  }

  /** The length of a night, h, which needs no computed run. */
  double hours(NightDesign design) {
    return hours.computeIfAbsent(
        design, d -> TriedNight.hours(forecaster.secondsByPart(NightSequence.of(d))));
  }

  /** Whether there is time for another night; where not, the search was cut short. */
  boolean mayGoOn() {
    cutShort |= timeSpent.getAsDouble() >= 1;
    return !cutShort;
  }

  /** Whether there is time for what only may help. */
  boolean hasTimeLeft() {
    return timeSpent.getAsDouble() < EARLY;
  }

  boolean isCutShort() {
    return cutShort;
  }

  /** Every computed night, with the most draws that it has. */
  List<TriedNight> all() {
    Map<NightDesign, TriedNight> all = new LinkedHashMap<>(quick);
    all.putAll(sure);
    return List.copyOf(all.values());
  }
}
