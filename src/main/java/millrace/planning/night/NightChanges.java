// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.planning.LimitForecast;

/** Changes of several ranges of a night, tried together. Stateless. */
final class NightChanges {
  private NightChanges() {}

  /**
   * Tries the changes of all ranges at once; those stay whose range misses no limit.
   *
   * @param here the night as it is
   * @param changes for each range a night with its change
   * @param wanted the wanted U
   * @param compute computes a night
   * @return the changed night; that before where nothing can stay
   */
  static TriedNight accepted(
      TriedNight here,
      Map<String, NightDesign> changes,
      WantedUncertainties wanted,
      Function<NightDesign, TriedNight> compute) {
    TriedNight all = compute.apply(merged(here.design(), changes));
    List<LimitForecast> missed = wanted.missed(all);
    if (missed.isEmpty()) {
      return all;
    }
    Map<String, NightDesign> good = new LinkedHashMap<>(changes);
    good.keySet().removeIf(range -> missed.stream().anyMatch(l -> isOf(l, range)));
    if (good.isEmpty()) {
      return here;
    }
    TriedNight some = compute.apply(merged(here.design(), good));
    return wanted.missed(some).isEmpty() ? some : here;
  }

  /** Whether a limit is one of a range, or of all. */
  static boolean isOf(LimitForecast limit, String range) {
    return limit.result().range().map(range::equals).orElse(true);
  }

  /** The amounts of each range as in its own design. */
  static NightDesign merged(NightDesign now, Map<String, NightDesign> changes) {
    Map<NightAmount, Integer> steps = new LinkedHashMap<>();
    changes.forEach(
        (range, design) ->
            design.steps().entrySet().stream()
                .filter(e -> e.getKey().range().equals(Optional.of(range)))
                .forEach(e -> steps.put(e.getKey(), e.getValue())));
    return now.with(steps);
  }
}
