// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import millrace.logbook.InstrumentEntry;

/** Addresses of pages; text from outside is escaped so that it stays one value. Stateless. */
public final class WatchLinks {
  private WatchLinks() {}

  /** The shelf with one word of its query. */
  public static String shelf(String name, String value) {
    return "/?" + name + "=" + URLEncoder.encode(value, StandardCharsets.UTF_8);
  }

  static String instrument(InstrumentEntry entry) {
    return shelf("instrument", entry.serial().orElse(entry.name()));
  }

  /** The page of a run. */
  public static String run(long id) {
    return "/run/" + id;
  }
}
