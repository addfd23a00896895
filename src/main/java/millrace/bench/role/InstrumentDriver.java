// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import java.util.Map;
import millrace.link.Link;
import millrace.time.TimeSource;

/**
 * The driver of one kind of instrument as a class, for what a driver file cannot express. Found by
 * {@link java.util.ServiceLoader}; needs a public constructor without parameters.
 */
public interface InstrumentDriver {
  /**
   * The name by which bench files ask for it.
   *
   * @return a name of its own, not blank
   */
  String name();

  /**
   * Opens an instrument; nothing is sent to it yet.
   *
   * @param connection what the bench file says of it
   * @return the instrument
   */
  Instrument open(Connection connection);

  /**
   * What a driver gets to open an instrument.
   *
   * @param name the instrument's name in the bench file
   * @param link the link to it, opened at the first question
   * @param settings what the bench file has under {@code settings}, free text
   * @param words the instrument's words for ranges and positions, by those of datasheet and bench
   *     file
   * @param surroundings what is around the instrument
   * @param gate refuses set points beyond the limits; the bench checks them as well
   */
  record Connection(
      String name,
      Link link,
      Map<String, String> settings,
      Map<String, String> words,
      Surroundings surroundings,
      SetPointGate gate) {
    /** Copies the maps. */
    public Connection {
      settings = Map.copyOf(settings);
      words = Map.copyOf(words);
    }

    /**
     * The clock to wait on.
     *
     * @return the clock of the run
     */
    public TimeSource time() {
      return surroundings.time();
    }
  }

  /**
   * The surroundings of instruments: the clock, and the person at the bench.
   *
   * @param time the clock to wait on
   * @param workplace what a person is asked and told
   */
  record Surroundings(TimeSource time, ManualTaskContext workplace) {
    /**
     * The same with a person who has no pending task.
     *
     * @param time the clock to wait on
     * @param person whom to ask
     */
    public Surroundings(TimeSource time, BenchOperator person) {
      this(time, new ManualTaskContext(person));
    }
  }
}
