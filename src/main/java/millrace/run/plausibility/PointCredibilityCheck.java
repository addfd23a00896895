// SPDX-License-Identifier: Apache-2.0
package millrace.run.plausibility;

import java.util.HashMap;
import java.util.Map;
import java.util.function.Consumer;
import millrace.bench.Bench;
import millrace.bench.role.Instrument;
import millrace.fault.InstrumentException;

/**
 * Checks before a point is stored that since its conditions were set no link was reopened, no
 * instrument was switched off and on, and no reply came unasked. Single-threaded.
 */
public final class PointCredibilityCheck {
  private final Bench bench;
  private final Consumer<String> remarks;
  private final Map<String, Integer> epochs = new HashMap<>();

  /**
   * A check of one bench.
   *
   * @param remarks takes messages of instruments that do not affect the readings
   */
  public PointCredibilityCheck(Bench bench, Consumer<String> remarks) {
    this.bench = bench;
    this.remarks = remarks;
  }

  /** Notes that conditions are being set from here on. */
  public void begin() {
    bench.instruments().forEach((name, instrument) -> epochs.put(name, instrument.epoch()));
  }

  /**
   * The same after trouble: links are reopened now and not during the point.
   *
   * @throws InstrumentException if an instrument does not answer
   */
  public void beginAgain() {
    bench.instruments().values().forEach(Instrument::renew);
    begin();
  }

  /**
   * Checks every instrument.
   *
   * @throws InstrumentException if the point must be repeated with all conditions set again
   */
  public void check() {
    bench.instruments().values().forEach(Instrument::check);
    bench.instruments().values().forEach(i -> i.notes().forEach(remarks));
    bench.instruments().forEach(this::sameEpoch);
  }

  private void sameEpoch(String name, Instrument instrument) {
    if (opened(name) && instrument.epoch() > epochs.get(name)) {
      throw new InstrumentException(
          "the link to '%s' was opened again during the point; all conditions are set again and the point is repeated"
              .formatted(name));
    }
  }

  /** A link that was opened for the first time during the point does not count as reopened. */
  private boolean opened(String name) {
    return epochs.getOrDefault(name, 0) > 0;
  }
}
