package millrace.bench.role;

import java.util.Map;
import millrace.link.Link;

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
   * @param time the clock to wait on
   */
  record Connection(
      String name, Link link, Map<String, String> settings, millrace.time.TimeSource time) {
    /** Copies the map. */
    public Connection {
      settings = Map.copyOf(settings);
    }
  }
}
