// SPDX-License-Identifier: Apache-2.0
package millrace.sim.fault;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import millrace.sim.truth.SimValueChecks;
import millrace.time.Seeds;

/**
 * What will go wrong on a simulated bench, listed or drawn.
 *
 * @param faults each with its time; may be empty
 */
public record FaultPlan(List<SimFault> faults) {
  /** A bench on which nothing goes wrong. */
  public static final FaultPlan NONE = new FaultPlan(List.of());

  /** Copies the list. */
  public FaultPlan {
    faults = List.copyOf(faults);
  }

  /**
   * A plan of these faults.
   *
   * @param faults the faults
   * @return the plan
   */
  public static FaultPlan of(SimFault... faults) {
    return new FaultPlan(List.of(faults));
  }

  /**
   * What is drawn.
   *
   * @param count how many faults, 0 or more
   * @param within until when of the bench's clock
   * @param kinds of which kinds; not empty
   */
  public record Lot(int count, Duration within, List<SimFault.Kind> kinds) {
    /** Copies the list, checks what the components promise. */
    public Lot {
      kinds = List.copyOf(kinds);
      SimValueChecks.notEmpty("kinds of fault", kinds.size());
      SimValueChecks.from0("count of faults", count);
    }

    /**
     * Faults of every kind.
     *
     * @param count how many faults
     * @param within until when of the bench's clock
     * @return the lot
     */
    public static Lot ofAll(int count, Duration within) {
      return new Lot(count, within, List.of(SimFault.Kind.values()));
    }
  }

  /**
   * Draws faults at random times on random instruments.
   *
   * @param lot what is drawn
   * @param seeds what it is drawn with
   * @return the plan
   */
  public static FaultPlan drawn(Lot lot, Seeds seeds) {
    SplittableRandom random = seeds.stream("faults");
    List<SimFault> faults = new ArrayList<>();
    for (int i = 0; i < lot.count(); i++) {
      SimFault.Kind kind = lot.kinds().get(random.nextInt(lot.kinds().size()));
      List<String> targets = kind.targets().isEmpty() ? SimInstrumentNames.NAMES : kind.targets();
      Duration at = Duration.ofMillis((long) (random.nextDouble() * lot.within().toMillis()));
      Duration lasting = Duration.ofMillis((long) (random.nextDouble() * 3_600_000));
      String target = targets.get(random.nextInt(targets.size()));
      int times = 1 + random.nextInt(2);
      faults.add(
          new SimFault(kind, target, new SimFault.AtTime(at), times, kind.usualSize(), lasting));
    }
    return new FaultPlan(faults);
  }

  /**
   * The plan with another behind it.
   *
   * @param other the other
   * @return both
   */
  public FaultPlan and(FaultPlan other) {
    return new FaultPlan(Stream.concat(faults.stream(), other.faults.stream()).toList());
  }
}
