// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * Exchanges loads for readings and readings for loads where that makes a night shorter at the same
 * U. U of a slope is taken to go with the root of readings times sum of squares of the loads, U of
 * a mean with the root of readings times loads: that ranks exchanges, and a computed night confirms
 * them. Single-threaded.
 */
final class NightExchange {
  private static final int MOST_ROUNDS = 4;
  private static final int FARTHEST = 2;
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
    List<NightDesign> equal =
        sweeps(now, range)
            .flatMap(
                d ->
                    Stream.of(
                        d.withReadings(range, now.loadSquares(range) / d.loadSquares(range)),
                        d.withReadings(range, 1.0 * now.points(range) / d.points(range))))
            .toList();
    Predicate<NightDesign> open =
        d -> !refused.contains(d) && here.hours() - trials.hours(d) > WORTH_H;
    Comparator<NightDesign> byHours = Comparator.comparingDouble(trials::hours);
    return equal.stream()
        .filter(open)
        .min(byHours)
        .or(() -> equal.stream().flatMap(d -> d.less(readings).stream()).filter(open).min(byHours));
  }

  /** Other sweeps of a range: a few loads more or fewer, one way or both. */
  private static Stream<NightDesign> sweeps(NightDesign now, String range) {
    NightAmount loads = new NightAmount(NightLever.LOADS, Optional.of(range));
    NightAmount ways = new NightAmount(NightLever.SWEEP, Optional.of(range));
    int fewest = now.at(loads, 0).lessOf(loads);
    int here = fewest - now.lessOf(loads);
    return IntStream.rangeClosed(Math.max(0, here - FARTHEST), Math.min(fewest, here + FARTHEST))
        .mapToObj(step -> now.at(loads, step))
        .flatMap(d -> Stream.of(d.at(ways, 0), d.at(ways, d.at(ways, 0).lessOf(ways))))
        .filter(d -> !d.equals(now));
  }
}
