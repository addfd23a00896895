// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import millrace.planning.LimitForecast;

/**
 * Takes away what a night has too much of, as nights with more draws of the noise show. Each range
 * goes on by itself, also where another one misses a limit: readings by what its U leave, then by
 * halving between enough and too few; other loads for other readings; points away from T_ref step
 * by step and all at once. Single-threaded; used once.
 */
final class NightTrimming {
  private static final int MOST_ROUNDS = 20;

  /** Another number of loads is tried where it saves more than this, h. */
  private static final double WORTH_H = 5 / 3600.0;

  private static final int FARTHEST = 2;
  private static final List<NightLever> OF_ALL = List.of(NightLever.SOAK, NightLever.VOLTAGE);
  private static final List<NightLever> AWAY =
      List.of(NightLever.BETWEEN, NightLever.ENDS, NightLever.AWAY, NightLever.NEAR);

  /** U of a limit that is missed anyway differs by this from draw to draw. */
  private static final double NO_WORSE = 1.05;

  /** A limit that is missed by more keeps what its range has. */
  private static final double MOST_MISSED = 2;

  private final NightTrials trials;
  private final WantedUncertainties wanted;

  /** For each amount the steps that are too little; of readings, all beyond them, too. */
  private final Map<NightAmount, TreeSet<Integer>> tooFew = new HashMap<>();

  /** The limits that the first night misses, with the ratio of U to the wanted one. */
  private final Map<String, Double> missed = new HashMap<>();

  /** For each range the largest ratio of its U to the wanted ones, where it has enough. */
  private final Map<String, Double> ratios = new HashMap<>();

  NightTrimming(NightTrials trials, WantedUncertainties wanted) {
    this.trials = trials;
    this.wanted = wanted;
  }

  /** The night without what it can spare; it misses no limit that the night itself does not. */
  TriedNight trimmed(TriedNight from) {
    wanted.missed(from).forEach(l -> missed.put(TriedNight.key(l), wanted.ratio(l)));
    TriedNight night = from;
    for (NightLever lever : OF_ALL) {
      night = without(night, lever);
    }
    NightDesign now = night.design();
    for (String range : now.scope().ranges()) {
      ratios.put(range, ratio(night, range));
    }
    for (int round = 0; round < MOST_ROUNDS && trials.mayGoOn(); round++) {
      Map<String, NightDesign> changes = new LinkedHashMap<>();
      for (String range : now.scope().ranges()) {
        Optional<NightDesign> less = less(now, range);
        less.ifPresent(d -> changes.put(range, d));
      }
      if (changes.isEmpty()) {
        break;
      }
      now = enough(now, changes);
    }
    return trials.sure(now);
  }

  private TriedNight without(TriedNight night, NightLever lever) {
    Optional<TriedNight> less =
        night
            .design()
            .all(lever, false)
            .filter(d -> trials.mayGoOn() && saves(night.design(), d))
            .map(trials::sure);
    return less.filter(t -> worse(t).isEmpty()).orElse(night);
  }

  private boolean saves(NightDesign now, NightDesign less) {
    return trials.hours(now) - trials.hours(less) > NightReduction.SECOND_H;
  }

  /** The limits that it misses and that the first night does not, or misses by less. */
  private List<LimitForecast> worse(TriedNight night) {
    return wanted.missed(night).stream()
        .filter(l -> wanted.ratio(l) > NO_WORSE * missedBy(l))
        .toList();
  }

  private double missedBy(LimitForecast limit) {
    return Math.min(MOST_MISSED, missed.getOrDefault(TriedNight.key(limit), 0.0));
  }

  private double ratio(TriedNight night, String range) {
    return night.limits().stream()
        .filter(l -> NightChanges.isOf(l, range))
        .mapToDouble(wanted::ratio)
        .max()
        .orElse(1);
  }

  /**
   * Tries the changes together, and again without those of ranges that then miss a limit, until a
   * night of them has enough: the ranges of a night move each other, by warm-up and slow noise.
   */
  private NightDesign enough(NightDesign now, Map<String, NightDesign> changes) {
    Map<String, NightDesign> left = new LinkedHashMap<>(changes);
    while (!left.isEmpty() && trials.mayGoOn()) {
      TriedNight tried = trials.sure(NightChanges.merged(now, left));
      List<LimitForecast> worse = worse(tried);
      if (worse.isEmpty()) {
        left.keySet().forEach(range -> accept(now, range, tried));
        return tried.design();
      }
      List<String> guilty =
          left.keySet().stream()
              .filter(range -> worse.stream().anyMatch(l -> NightChanges.isOf(l, range)))
              .toList();
      for (String range : guilty.isEmpty() ? List.copyOf(left.keySet()) : guilty) {
        refuse(now, range, left.remove(range));
      }
    }
    return now;
  }

  /** With other loads, fewer readings may do. */
  private void accept(NightDesign now, String range, TriedNight tried) {
    ratios.put(range, ratio(tried, range));
    NightAmount loads = new NightAmount(NightLever.LOADS, Optional.of(range));
    if (!now.steps().get(loads).equals(tried.design().steps().get(loads))) {
      tooFew.remove(new NightAmount(NightLever.READINGS, Optional.of(range)));
    }
  }

  /** With other loads, it is the loads that do not do. */
  private void refuse(NightDesign now, String range, NightDesign less) {
    NightAmount loads = new NightAmount(NightLever.LOADS, Optional.of(range));
    boolean others = !now.steps().get(loads).equals(less.steps().get(loads));
    less.steps()
        .forEach(
            (amount, step) -> {
              if (others ? amount.equals(loads) : step > now.steps().get(amount)) {
                tooFew.computeIfAbsent(amount, a -> new TreeSet<>()).add(step);
              }
            });
  }

  /** What saves most of what a range may be able to spare. */
  private Optional<NightDesign> less(NightDesign now, String range) {
    List<NightDesign> all = new ArrayList<>();
    fewerReadings(now, range).ifPresent(all::add);
    otherLoads(now, range).forEach(all::add);
    for (NightLever lever : AWAY) {
      NightAmount amount = new NightAmount(lever, Optional.of(range));
      int here = now.steps().get(amount);
      Stream.of(here + 1, here + now.lessOf(amount))
          .filter(step -> now.lessOf(amount) > 0)
          .filter(step -> !tooFew.getOrDefault(amount, new TreeSet<>()).contains(step))
          .map(step -> now.at(amount, step))
          .forEach(all::add);
    }
    return all.stream().filter(d -> saves(now, d)).min(Comparator.comparingDouble(trials::hours));
  }

  /** Some loads more or fewer, with readings for the same U of a slope. */
  private Stream<NightDesign> otherLoads(NightDesign now, String range) {
    NightAmount loads = new NightAmount(NightLever.LOADS, Optional.of(range));
    int here = now.steps().get(loads);
    double ratio = Math.min(1, ratios.getOrDefault(range, 1.0));
    return IntStream.rangeClosed(
            Math.max(0, here - FARTHEST), here + Math.min(FARTHEST, now.lessOf(loads)))
        .filter(step -> step != here && !tooFew.getOrDefault(loads, new TreeSet<>()).contains(step))
        .mapToObj(step -> now.at(loads, step))
        .map(
            d ->
                d.withReadings(
                    range, ratio * ratio * now.loadSquares(range) / d.loadSquares(range)))
        .filter(d -> trials.hours(now) - trials.hours(d) > WORTH_H);
  }

  /** As many fewer as U leaves if it goes with their root, at least one step; else half the way. */
  private Optional<NightDesign> fewerReadings(NightDesign now, String range) {
    NightAmount readings = new NightAmount(NightLever.READINGS, Optional.of(range));
    int here = now.steps().get(readings);
    int least = here + now.lessOf(readings);
    int most = tooFew.containsKey(readings) ? tooFew.get(readings).first() : least + 1;
    if (most - here <= 1) {
      return Optional.empty();
    }
    double ratio = Math.min(1, ratios.getOrDefault(range, 1.0));
    int byRoot = now.withReadings(range, ratio * ratio).steps().get(readings);
    int step = byRoot < most ? Math.max(here + 1, byRoot) : (here + most) / 2;
    return Optional.of(now.at(readings, step));
  }
}
