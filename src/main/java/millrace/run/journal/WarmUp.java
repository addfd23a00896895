// SPDX-License-Identifier: Apache-2.0
package millrace.run.journal;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.bench.BenchFile;
import millrace.datasheet.Datasheet;
import millrace.quantity.TimeSpanSeconds;

/**
 * What must have warmed up before readings count, and how long everything had been on when the run
 * began, which is stored with the run. Immutable.
 *
 * @param needs who needs how long from power-on
 * @param onFor how long all of it had been on when the run began; empty if that does not matter
 */
public record WarmUp(List<Need> needs, Optional<Duration> onFor) {
  /** Copies the list. */
  public WarmUp {
    needs = List.copyOf(needs);
  }

  /**
   * A device with its warm-up time.
   *
   * @param who in words
   * @param span from power-on
   */
  public record Need(String who, Duration span) {
    /**
     * In words.
     *
     * @return as in 'the unit needs 30 min'
     */
    public String text() {
      return who + " needs " + TimeSpanSeconds.print(span, 3);
    }
  }

  /**
   * What datasheet and bench file state.
   *
   * @param datasheet of the unit
   * @param bench its instruments
   * @return the unit first; empty if neither states anything
   */
  public static List<Need> needs(Datasheet datasheet, BenchFile bench) {
    List<Need> needs = new ArrayList<>();
    datasheet.warmUp().ifPresent(span -> needs.add(new Need("the unit", span)));
    for (BenchFile.Entry entry : bench.instruments().values()) {
      entry.warmUp().ifPresent(span -> needs.add(new Need("'" + entry.name() + "'", span)));
    }
    return needs;
  }

  /** What is known when the run begins; empty if nothing needs to warm up. */
  public Optional<String> text() {
    return onFor
        .filter(on -> !needs.isEmpty())
        .map(
            on ->
                "instruments and unit had been on for %s when the run began; %s"
                    .formatted(
                        TimeSpanSeconds.print(on, 3),
                        String.join(", ", needs.stream().map(Need::text).toList())));
  }

  /** Why a point that is taken now is flagged; empty if everything is warm. */
  public Optional<String> trouble(Duration elapsed) {
    if (onFor.isEmpty()) {
      return Optional.empty();
    }
    Duration on = onFor.get().plus(elapsed);
    List<String> cold =
        needs.stream().filter(n -> on.compareTo(n.span()) < 0).map(Need::text).toList();
    return cold.isEmpty()
        ? Optional.empty()
        : Optional.of(
            "taken before the warm-up was over: on for %s, %s"
                .formatted(TimeSpanSeconds.print(on, 3), String.join(", ", cold)));
  }
}
