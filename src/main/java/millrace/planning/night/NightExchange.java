// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/**
 * Exchanges loads for readings and readings for loads where that makes a night shorter at the same
 * U. U of a slope is taken to go with the root of readings times sum of squares of the loads: that
 * ranks exchanges, and a computed night confirms them. Single-threaded.
 */
final class NightExchange {
  private static final int MOST_ROUNDS = 6;
  private static final double WORTH_H = 1 / 3600.0;

  private final NightTrials trials;
  private final WantedUncertainties wanted;

  NightExchange(NightTrials trials, WantedUncertainties wanted) {
    this.trials = trials;
    this.wanted = wanted;
  }

  /** The shortest night that exchanges lead to. */
  TriedNight exchanged(TriedNight from) {
    TriedNight night = from;
    Set<NightDesign> refused = new HashSet<>();
    for (int round = 0; round < MOST_ROUNDS && trials.hasTimeLeft(); round++) {
      TriedNight here = night;
      Map<String, NightDesign> changes = new LinkedHashMap<>();
      for (String range : here.design().scope().ranges()) {
        shorter(here, range, refused).ifPresent(d -> changes.put(range, d));
      }
      if (changes.isEmpty()) {
        return night;
      }
      refused.addAll(changes.values());
      night = NightChanges.accepted(here, changes, wanted, trials::quick);
    }
    return night;
  }

  private Optional<NightDesign> shorter(TriedNight here, String range, Set<NightDesign> refused) {
    NightDesign now = here.design();
    NightAmount readings = new NightAmount(NightLever.READINGS, Optional.of(range));
    return Stream.of(NightLever.LOADS, NightLever.SWEEP)
        .map(lever -> new NightAmount(lever, Optional.of(range)))
        .flatMap(a -> Stream.of(now.more(a), now.less(a)).flatMap(Optional::stream))
        .map(d -> d.withReadings(range, now.loadSquares(range) / d.loadSquares(range)))
        .flatMap(d -> Stream.concat(Stream.of(d), d.less(readings).stream()))
        .filter(d -> !refused.contains(d) && here.hours() - trials.hours(d) > WORTH_H)
        .min(Comparator.comparingDouble(trials::hours));
  }
}
