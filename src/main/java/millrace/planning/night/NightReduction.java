// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.planning.LimitForecast;

/**
 * Makes a night shorter as long as each limit keeps its wanted U. The amounts of all ranges go down
 * together, since the limits of a range depend on its own points: one computed night tells of each
 * range whether it still has enough. Single-threaded.
 */
final class NightReduction {
  static final double SECOND_H = 1 / 3600.0;

  private final NightTrials trials;
  private final WantedUncertainties wanted;
  private final Map<NightAmount, TooLean> tooLean = new LinkedHashMap<>();

  NightReduction(NightTrials trials, WantedUncertainties wanted) {
    this.trials = trials;
    this.wanted = wanted;
  }

  /** A step of an amount that was too little when it was tried. */
  private record TooLean(int step, NightPlan.Kept why) {}

  /** The reasons why amounts of a night are not smaller; later steps of a search may lower them. */
  List<NightPlan.Kept> kept(NightDesign night) {
    return tooLean.values().stream()
        .filter(t -> night.steps().get(t.why().of()) < t.step())
        .map(t -> t.why().in(night))
        .filter(k -> !k.amount().equals(k.less()))
        .toList();
  }

  /** Lever by lever, down to the least that is enough; what saves no time stays. */
  TriedNight shortest(TriedNight richest) {
    TriedNight night = richest;
    for (NightLever lever : NightLever.values()) {
      if (trials.mayGoOn() && saves(night, lever)) {
        night = least(night, lever);
      }
    }
    return night;
  }

  /** Alone, or when the rest is at its least: a soak and the points during it end together. */
  private boolean saves(TriedNight night, NightLever lever) {
    NightDesign design = night.design();
    double alone = night.hours() - trials.hours(at(design, lever, true));
    double together =
        trials.hours(design.leanestBut(Optional.of(lever)))
            - trials.hours(design.leanestBut(Optional.empty()));
    return Math.max(alone, together) > SECOND_H;
  }

  private static NightDesign at(NightDesign design, NightLever lever, boolean least) {
    Map<NightAmount, Integer> steps = new LinkedHashMap<>();
    design
        .amounts(lever)
        .forEach(a -> steps.put(a, design.steps().get(a) + (least ? design.lessOf(a) : 0)));
    return design.with(steps);
  }

  /** Halves between enough and too little, for each amount of the lever. */
  private TriedNight least(TriedNight from, NightLever lever) {
    NightDesign design = from.design();
    Map<NightAmount, Integer> enough = new LinkedHashMap<>();
    Map<NightAmount, Integer> tooFew = new LinkedHashMap<>();
    for (NightAmount amount : design.amounts(lever)) {
      enough.put(amount, design.steps().get(amount));
      tooFew.put(amount, design.steps().get(amount) + design.lessOf(amount) + 1);
    }
    for (List<NightAmount> open = open(enough, tooFew);
        !open.isEmpty() && trials.mayGoOn();
        open = open(enough, tooFew)) {
      Map<NightAmount, Integer> steps = new LinkedHashMap<>(enough);
      open.forEach(a -> steps.put(a, (enough.get(a) + tooFew.get(a)) / 2));
      TriedNight leaner = trials.quick(design.with(steps));
      List<LimitForecast> missed = wanted.missed(leaner);
      for (NightAmount amount : open) {
        Optional<NightPlan.Kept> why = kept(amount, design, leaner.design(), missed);
        (why.isPresent() ? tooFew : enough).put(amount, steps.get(amount));
        why.ifPresent(k -> tooLean.put(amount, new TooLean(steps.get(amount), k)));
      }
    }
    return together(from, enough);
  }

  private static List<NightAmount> open(
      Map<NightAmount, Integer> enough, Map<NightAmount, Integer> tooFew) {
    return enough.keySet().stream().filter(a -> tooFew.get(a) - enough.get(a) > 1).toList();
  }

  /** What was enough one by one is put back where a limit is missed with all of it. */
  private TriedNight together(TriedNight from, Map<NightAmount, Integer> enough) {
    TriedNight night = trials.quick(from.design().with(enough));
    List<LimitForecast> missed = wanted.missed(night);
    if (missed.isEmpty()) {
      return night;
    }
    Map<NightAmount, Integer> back = new LinkedHashMap<>(enough);
    back.replaceAll(
        (a, s) -> missed.stream().anyMatch(a::affects) ? from.design().steps().get(a) : s);
    TriedNight other = trials.quick(from.design().with(back));
    return wanted.missed(other).isEmpty() ? other : from;
  }

  private static Optional<NightPlan.Kept> kept(
      NightAmount amount, NightDesign now, NightDesign less, List<LimitForecast> missed) {
    List<LimitForecast> own = new ArrayList<>(missed.stream().filter(amount::affects).toList());
    return own.stream()
        .max(Comparator.comparingDouble(TriedNight::share))
        .map(
            worst ->
                new NightPlan.Kept(
                    amount, now.words(amount), less.words(amount), worst, own.size() - 1));
  }
}
