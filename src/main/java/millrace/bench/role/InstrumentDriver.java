// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import java.util.Map;
import millrace.link.Link;
import millrace.time.TimeSource;

/**
 * How one kind of instrument is spoken to, for what a driver file cannot say. Found by {@link
 * java.util.ServiceLoader}; needs a public constructor without parameters.
 */
public interface InstrumentDriver {
  /**
   * The name by which bench files ask for it.
   *
   * @return a name of its own, not blank
   */
  String name();

  /**
   * Opens an instrument; asks it nothing yet.
   *
   * @param connection what the bench file says of it
   * @return the instrument
   */
  Instrument open(Connection connection);

  /**
   * What a driver is handed.
   *
   * @param name the instrument's name in the bench file
   * @param link the link to it, opened at the first question
   * @param settings what the bench file says under {@code settings}, free words
   * @param words what the instrument calls ranges and positions, by what datasheet and bench file
   *     call them
   * @param surroundings what is around the instrument
   * @param gate lets through what it may be told; whoever opened the bench asks it too
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
   * What is around instruments: the clock, and whoever stands at the bench.
   *
   * @param time the clock to wait on
   * @param workplace what a person is asked and told
   */
  record Surroundings(TimeSource time, ManualTaskContext workplace) {
    /**
     * The same with a person of whom nothing was asked yet.
     *
     * @param time the clock to wait on
     * @param person whom to ask
     */
    public Surroundings(TimeSource time, BenchOperator person) {
      this(time, new ManualTaskContext(person));
    }
  }
}
