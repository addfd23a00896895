// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import org.flywaydb.core.api.logging.Log;
import org.flywaydb.core.api.logging.LogCreator;

/** Keeps the migrations quiet: what went wrong comes as an exception, the rest nobody asked for. */
public final class NoFlywayLog implements LogCreator {
  @Override
  public Log createLogger(Class<?> of) {
    return new Silent();
  }

  private static final class Silent implements Log {
    @Override
    public void debug(String message) {}

    @Override
    public void info(String message) {}

    @Override
    public void warn(String message) {}

    @Override
    public void error(String message) {}

    @Override
    public void error(String message, Exception e) {}

    @Override
    public void notice(String message) {}
  }
}
