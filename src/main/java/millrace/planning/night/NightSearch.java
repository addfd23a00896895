// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import java.util.stream.Stream;
import millrace.planning.LimitForecast;

/**
 * Searches for the night that decides every limit in the fewest hours, or for the best night of a
 * given length (methods.md 12): from the night with the most of everything it first takes away what
 * saves the most time, as long as each limit that can be decided keeps its wanted U; in the hours
 * that are left it adds what lowers U the most for its time. Every U comes from a computed run.
 * Used once; single-threaded.
 */
public final class NightSearch {
  private static final double WORTH = 0.01;

  /** The number of draws during the search, and for the proposed night. */
  private static final int QUICK = 1;

  private static final int SURE = 3;
  private static final double SECOND_H = 1 / 3600.0;

  private final NightForecaster forecaster;
  private final BooleanSupplier timeUp;
  private final Consumer<TriedNight> seen;
  private final Map<NightDesign, TriedNight> tried = new LinkedHashMap<>();
  private final Map<NightDesign, Double> hours = new HashMap<>();
  private boolean cutShort;

  /**
   * Creates a search.
   *
   * @param forecaster forecasts time and results of nights
   * @param timeUp whether the search must end with its best night so far; asked between nights
   * @param seen receives every computed night
   */
  public NightSearch(
      NightForecaster forecaster, BooleanSupplier timeUp, Consumer<TriedNight> seen) {
    this.forecaster = forecaster;
    this.timeUp = timeUp;
    this.seen = seen;
  }

  /**
   * The night with the most of everything.
   *
   * @param scope the scope of the night
   * @return the text of its file
   */
  public static String richest(NightScope scope) {
    return NightSequence.of(NightDesign.richest(scope));
  }

  /**
   * Searches for a night.
   *
   * @param scope the scope of the night
   * @param mostH the longest length, h, above 0; empty for the shortest night
   * @param asGoodAs the results of another sequence, whose U must not be exceeded; may be empty
   * @return the result; longer than mostH only where no night is that short
   */
  public NightPlan find(NightScope scope, OptionalDouble mostH, List<LimitForecast> asGoodAs) {
    TriedNight richest = compute(NightDesign.richest(scope));
    WantedUncertainties wanted = new WantedUncertainties(richest, asGoodAs);
    Map<NightLever, NightPlan.Kept> kept = new EnumMap<>(NightLever.class);
    TriedNight night = sure(shortest(richest, wanted, kept), wanted);
    if (mostH.isPresent()) {
      night =
          night.hours() > mostH.getAsDouble()
              ? compute(cut(night, wanted, mostH.getAsDouble()).design(), SURE)
              : compute(filled(night, wanted, mostH.getAsDouble()).design(), SURE);
    }
    NightDesign design = night.design();
    List<LimitForecast> undecidable =
        richest.limits().stream().filter(l -> !isDecidedByAny(TriedNight.key(l))).toList();
    return new NightPlan(
        night,
        point(night, wanted),
        kept.values().stream().map(k -> k.in(design)).toList(),
        undecidable,
        wanted.missed(night),
        curve(wanted),
        !cutShort);
  }

  private boolean isDecidedByAny(String key) {
    return tried.values().stream()
        .flatMap(night -> night.limits().stream())
        .anyMatch(l -> l.isDecided() && TriedNight.key(l).equals(key));
  }

  private TriedNight compute(NightDesign design) {
    TriedNight known = tried.get(design);
    return known != null ? known : compute(design, QUICK);
  }

  private TriedNight compute(NightDesign design, int draws) {
    String sequence = NightSequence.of(design);
    TriedNight night =
        new TriedNight(
            design,
            sequence,
            forecaster.secondsByPart(sequence),
            forecaster.limits(sequence, draws));
    tried.put(design, night);
    seen.accept(night);
    return night;
  }

  private double hours(NightDesign design) {
    return hours.computeIfAbsent(
        design, d -> TriedNight.hours(forecaster.secondsByPart(NightSequence.of(d))));
  }

  private boolean mayGoOn() {
    cutShort |= timeUp.getAsBoolean();
    return !cutShort;
  }

  /** Lever by lever, the largest possible saving first, down to the least that is enough. */
  private TriedNight shortest(
      TriedNight richest, WantedUncertainties wanted, Map<NightLever, NightPlan.Kept> kept) {
    TriedNight night = richest;
    Set<NightLever> done = EnumSet.noneOf(NightLever.class);
    for (Optional<NightLever> lever = saving(night, done);
        lever.isPresent() && mayGoOn();
        lever = saving(night, done)) {
      done.add(lever.get());
      night = least(night, lever.get(), wanted, kept);
    }
    return night;
  }

  /** By bisection: a night that misses a limit also misses it with less of the lever. */
  private TriedNight least(
      TriedNight from,
      NightLever lever,
      WantedUncertainties wanted,
      Map<NightLever, NightPlan.Kept> kept) {
    TriedNight night = from;
    Optional<TriedNight> tooLean = Optional.empty();
    int enough = 0;
    int tooFew = from.design().lessOf(lever) + 1;
    while (tooFew - enough > 1 && mayGoOn()) {
      int by = (enough + tooFew) / 2;
      TriedNight leaner = compute(from.design().less(lever, by));
      if (wanted.missed(leaner).isEmpty()) {
        night = leaner;
        enough = by;
      } else {
        tooLean = Optional.of(leaner);
        tooFew = by;
      }
    }
    NightDesign found = night.design();
    tooLean.ifPresent(
        lean -> kept.put(lever, kept(lever, found, lean.design(), wanted.missed(lean))));
    return night;
  }

  /**
   * The same night computed with more draws; where it then misses a limit, it gets readings back,
   * which lower every U that rests on scatter, else the amount that costs the least time.
   */
  private TriedNight sure(TriedNight found, WantedUncertainties wanted) {
    TriedNight night = compute(withoutCost(found.design()), SURE);
    for (Optional<NightDesign> more = givenBack(night);
        !wanted.missed(night).isEmpty() && more.isPresent() && mayGoOn();
        more = givenBack(night)) {
      night = compute(more.get(), SURE);
    }
    return night;
  }

  private Optional<NightDesign> givenBack(TriedNight night) {
    return night
        .design()
        .more(NightLever.READINGS)
        .or(
            () ->
                Stream.of(NightLever.values())
                    .flatMap(lever -> night.design().more(lever).stream())
                    .min(Comparator.comparingDouble(this::hours)));
  }

  /** The lever with the largest possible saving among those not examined. */
  private Optional<NightLever> saving(TriedNight night, Set<NightLever> done) {
    Map<NightLever, Double> saved = new EnumMap<>(NightLever.class);
    for (NightLever lever : NightLever.values()) {
      int steps = night.design().lessOf(lever);
      if (steps > 0 && !done.contains(lever)) {
        double h = Math.max(alone(night, lever), together(night, lever));
        if (h > SECOND_H) {
          saved.put(lever, h);
        }
      }
    }
    return saved.entrySet().stream().max(Map.Entry.comparingByValue()).map(Map.Entry::getKey);
  }

  private double alone(TriedNight night, NightLever lever) {
    NightDesign design = night.design();
    return night.hours() - hours(design.less(lever, design.lessOf(lever)));
  }

  /**
   * The saving of a lever when the rest is at its least: a soak and the points during it end
   * together.
   */
  private double together(TriedNight night, NightLever lever) {
    NightDesign design = night.design();
    return hours(design.leanestBut(Optional.of(lever)))
        - hours(design.leanestBut(Optional.empty()));
  }

  /** The same night with every amount that takes no time. */
  private NightDesign withoutCost(NightDesign from) {
    NightDesign design = from;
    for (NightLever lever : NightLever.values()) {
      for (Optional<NightDesign> more = design.more(lever);
          more.isPresent() && hours(more.get()) - hours(from) < SECOND_H;
          more = design.more(lever)) {
        design = more.get();
      }
    }
    return design;
  }

  private static NightPlan.Kept kept(
      NightLever lever, NightDesign now, NightDesign less, List<LimitForecast> missed) {
    LimitForecast worst =
        missed.stream().max(Comparator.comparingDouble(TriedNight::share)).orElseThrow();
    return new NightPlan.Kept(
        lever, now.amount(lever), less.amount(lever), worst, missed.size() - 1);
  }

  /** Adds the amount that lowers the shares the most for its time, as long as hours are left. */
  private TriedNight filled(TriedNight from, WantedUncertainties wanted, double mostH) {
    TriedNight night = from;
    for (Optional<TriedNight> better = better(night, wanted, mostH);
        better.isPresent();
        better = better(night, wanted, mostH)) {
      night = better.get();
    }
    return night;
  }

  private Optional<TriedNight> better(TriedNight night, WantedUncertainties wanted, double mostH) {
    List<String> among = wanted.decidable();
    double now = night.meanShare(among);
    TriedNight best = null;
    double most = 0;
    for (NightLever lever : NightLever.values()) {
      Optional<NightDesign> more = night.design().more(lever);
      if (more.isPresent() && hours(more.get()) <= mostH && mayGoOn()) {
        TriedNight richer = compute(more.get());
        double gained = (now - richer.meanShare(among)) / now;
        double perHour = gained / Math.max(SECOND_H, richer.hours() - night.hours());
        if (gained > WORTH && perHour > most) {
          best = richer;
          most = perHour;
        }
      }
    }
    return Optional.ofNullable(best);
  }

  /** Takes away the amount that costs least until the night is short enough. */
  private TriedNight cut(TriedNight from, WantedUncertainties wanted, double mostH) {
    TriedNight night = from;
    while (night.hours() > mostH && mayGoOn()) {
      Optional<TriedNight> leaner = leaner(night, wanted);
      if (leaner.isEmpty()) {
        return night;
      }
      night = leaner.get();
    }
    return night;
  }

  private Optional<TriedNight> leaner(TriedNight night, WantedUncertainties wanted) {
    List<TriedNight> all = new ArrayList<>();
    for (NightLever lever : NightLever.values()) {
      Optional<NightDesign> less = night.design().less(lever);
      if (less.isPresent() && night.hours() - hours(less.get()) > SECOND_H && mayGoOn()) {
        all.add(compute(less.get()));
      }
    }
    List<String> among = wanted.decidable();
    return all.stream()
        .max(
            Comparator.comparingInt(TriedNight::decided)
                .thenComparingDouble(t -> -t.meanShare(among)));
  }

  private static NightPlan.CurvePoint point(TriedNight night, WantedUncertainties wanted) {
    double share = night.worstShare(wanted.decidable());
    Optional<Double> known = Double.isFinite(share) ? Optional.of(share) : Optional.empty();
    return new NightPlan.CurvePoint(night.hours(), known, night.decided());
  }

  /** Nights of which no shorter one is better. */
  private List<NightPlan.CurvePoint> curve(WantedUncertainties wanted) {
    List<String> among = wanted.decidable();
    List<NightPlan.CurvePoint> curve = new ArrayList<>();
    double least = Double.POSITIVE_INFINITY;
    int most = -1;
    List<TriedNight> rising =
        tried.values().stream().sorted(Comparator.comparingDouble(TriedNight::hours)).toList();
    for (TriedNight night : rising) {
      double share = night.worstShare(among);
      if (share < least || night.decided() > most) {
        curve.add(point(night, wanted));
        least = Math.min(least, share);
        most = Math.max(most, night.decided());
      }
    }
    return curve;
  }
}
