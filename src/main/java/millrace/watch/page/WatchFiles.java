// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Objects;
import millrace.report.frame.HtmlPageFrame;

/** Style, script and icon of all pages: three fixed texts of the program. */
public final class WatchFiles {
  private static final String STYLE = PageFrame.style() + read("watch.css");
  private static final String SCRIPT = read("page.js");
  private static final String ICON =
      "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 16 16'><path d='M1 12h5l3-8h6'"
          + " fill='none' stroke='#00529b' stroke-width='2'/></svg>";

  private WatchFiles() {}

  /** The style sheet. */
  public static String style() {
    return STYLE;
  }

  /** The additional style for pages of simulated runs. */
  public static String simulated() {
    return HtmlPageFrame.resource("simulated.css");
  }

  /** The script. */
  public static String script() {
    return SCRIPT;
  }

  /** The icon, SVG. */
  public static String icon() {
    return ICON;
  }

  private static String read(String name) {
    try (InputStream in = WatchFiles.class.getResourceAsStream(name)) {
      byte[] bytes = Objects.requireNonNull(in, name).readAllBytes();
      return new String(bytes, StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
