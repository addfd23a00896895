// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import java.util.function.DoubleSupplier;
import java.util.function.ToDoubleFunction;
import java.util.stream.Stream;
import millrace.planning.LimitForecast;

/**
 * Searches for the night that decides every limit in the fewest hours, or for the best night of a
 * given length (methods.md 12): from the night with the most of everything it takes away what can
 * be spared, each range for itself, as long as each limit that can be decided keeps its wanted U;
 * it exchanges loads and readings; in the hours that are left it adds what lowers U the most for
 * its time. Every U comes from a computed run. Used once; single-threaded.
 */
public final class NightSearch {
  private static final double WORTH = 0.01;

  private final NightTrials trials;

  /**
   * Creates a search.
   *
   * @param forecaster forecasts time and results of nights
   * @param timeSpent the spent share of the time that the search may take; at 1 it ends with its
   *     best night so far; asked between nights
   * @param seen receives every computed night
   */
  public NightSearch(
      NightForecaster forecaster, DoubleSupplier timeSpent, Consumer<TriedNight> seen) {
    this.trials = new NightTrials(forecaster, timeSpent, seen);
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
    if (!asGoodAs.isEmpty()) {
      trials.compare();
    }
    TriedNight richest = trials.quick(NightDesign.richest(scope));
    WantedUncertainties wanted = new WantedUncertainties(richest, asGoodAs);
    WantedUncertainties ofOneDraw = wanted.ofOneDraw(richest);
    NightReduction reduction = new NightReduction(trials, ofOneDraw);
    TriedNight shortest = reduction.shortest(richest);
    TriedNight night = new NightExchange(trials, ofOneDraw).exchanged(shortest);
    NightRepair repair = new NightRepair(trials, wanted);
    TriedNight trimmed = new NightTrimming(trials, wanted).trimmed(repair.sure(night));
    night = wanted.missed(trimmed).isEmpty() ? trimmed : repair.sure(trimmed);
    night = trials.shortestSure(t -> wanted.missed(t).isEmpty()).orElse(night);
    night = withShorterSoaks(night, repair, wanted);
    if (mostH.isPresent()) {
      night =
          night.hours() > mostH.getAsDouble()
              ? trials.sure(cut(night, wanted, mostH.getAsDouble()).design())
              : trials.sure(filled(night, richest, mostH.getAsDouble()).design());
    }
    NightDesign design = night.design();
    List<LimitForecast> undecidable =
        richest.limits().stream().filter(l -> !isDecidedByAny(TriedNight.key(l))).toList();
    return new NightPlan(
        night,
        point(night, wanted),
        reduction.kept(design),
        undecidable,
        wanted.missed(night),
        curve(wanted),
        !trials.isCutShort());
  }

  /** A soak that ends earlier may be worth more than the readings that it then takes. */
  private TriedNight withShorterSoaks(
      TriedNight from, NightRepair repair, WantedUncertainties wanted) {
    TriedNight night = from;
    for (Optional<NightDesign> less = night.design().all(NightLever.SOAK, false);
        less.isPresent() && trials.mayGoOn();
        less = night.design().all(NightLever.SOAK, false)) {
      TriedNight repaired = repair.sure(trials.sure(less.get()));
      if (!wanted.missed(repaired).isEmpty() || repaired.hours() >= night.hours()) {
        return night;
      }
      TriedNight trimmed = new NightTrimming(trials, wanted).trimmed(repaired);
      night = wanted.missed(trimmed).isEmpty() ? trimmed : repaired;
    }
    return night;
  }

  private boolean isDecidedByAny(String key) {
    return trials.all().stream()
        .flatMap(night -> night.limits().stream())
        .anyMatch(l -> l.isDecided() && TriedNight.key(l).equals(key));
  }

  /**
   * Adds the amount that lowers the worst share the most for its time, as long as hours are left;
   * what the night with the most of everything lowers no further does not count.
   */
  private TriedNight filled(TriedNight from, TriedNight richest, double mostH) {
    List<String> lowered = from.lowered(richest, WORTH);
    TriedNight night = from;
    for (Optional<TriedNight> better = better(night, lowered, mostH);
        better.isPresent();
        better = better(night, lowered, mostH)) {
      night = better.get();
    }
    return night;
  }

  private Optional<TriedNight> better(TriedNight night, List<String> among, double mostH) {
    if (!trials.mayGoOn()) {
      return Optional.empty();
    }
    List<NightDesign> more =
        Stream.of(NightLever.values())
            .flatMap(lever -> night.design().all(lever, true).stream())
            .filter(design -> trials.hours(design) <= mostH)
            .toList();
    List<TriedNight> richer = trials.quick(more);
    return best(richer, night, t -> t.worstShare(among))
        .or(() -> best(richer, night, t -> t.meanShare(among)));
  }

  /** The night with the largest gain for its time, if a gain is worth it. */
  private static Optional<TriedNight> best(
      List<TriedNight> richer, TriedNight night, ToDoubleFunction<TriedNight> share) {
    double now = share.applyAsDouble(night);
    ToDoubleFunction<TriedNight> gain = t -> (now - share.applyAsDouble(t)) / now;
    return richer.stream()
        .filter(t -> gain.applyAsDouble(t) > WORTH)
        .max(
            Comparator.comparingDouble(
                t ->
                    gain.applyAsDouble(t)
                        / Math.max(NightReduction.SECOND_H, t.hours() - night.hours())));
  }

  /** Takes away the amount that costs least until the night is short enough. */
  private TriedNight cut(TriedNight from, WantedUncertainties wanted, double mostH) {
    TriedNight night = from;
    while (night.hours() > mostH && trials.mayGoOn()) {
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
      Optional<NightDesign> less = night.design().all(lever, false);
      if (less.isPresent()
          && night.hours() - trials.hours(less.get()) > NightReduction.SECOND_H
          && trials.mayGoOn()) {
        all.add(trials.quick(less.get()));
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
        trials.all().stream().sorted(Comparator.comparingDouble(TriedNight::hours)).toList();
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
