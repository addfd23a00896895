// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Optional;
import java.util.Properties;
import java.util.logging.Level;
import java.util.logging.Logger;
import millrace.fault.LogbookException;
import org.postgresql.Driver;

/**
 * The one place that connects to a store: with time-outs, so that nobody waits for ever and nobody
 * holds others up, and always inside a transaction.
 */
final class PostgresConnections {
  /** How long a server may take to answer a connection, s. */
  private static final String CONNECT_S = "10";

  /** The longest silence of a server that is at work, s: longer than any statement may take. */
  private static final String SILENCE_S = "900";

  /** Numbers come as their bytes from the first answer on, which is less work on both sides. */
  private static final String ALWAYS_BINARY = "-1";

  private static final String LIMITS =
      "SET statement_timeout = '10min'; SET lock_timeout = '1min';"
          + " SET idle_in_transaction_session_timeout = '1h'; SET jit = off";

  /**
   * A plan that was made for tables that were empty then would read them whole, again for each run.
   */
  private static final String FRESH_PLANS = "; SET plan_cache_mode = force_custom_plan";

  /**
   * One plan for all runs: with a part for each month, planning takes longer than reading a run.
   */
  private static final String SAME_PLANS = "; SET plan_cache_mode = force_generic_plan";

  /**
   * What the driver would print beside the error that it throws; kept, or it would be forgotten.
   */
  private static final Logger DRIVER = Logger.getLogger("org.postgresql");

  static {
    DRIVER.setLevel(Level.OFF);
  }

  private PostgresConnections() {}

  /** A session that reads: everything as it stands at its first question. */
  static SqlSession forReading(StoreAddress address) {
    return checked(address, true);
  }

  /** A session that adds runs or judgings. */
  static SqlSession forWriting(StoreAddress address) {
    return checked(address, false);
  }

  private static SqlSession checked(StoreAddress address, boolean readOnly) {
    PostgresStore store = new PostgresStore(address);
    SqlSession session = new SqlSession(store, open(store, readOnly));
    boolean done = false;
    try {
      StoreVersion.check(session, store);
      done = true;
      return session;
    } finally {
      if (!done) {
        session.close();
      }
    }
  }

  /** A connection; its first statement is not sent yet. */
  static Connection open(PostgresStore store, boolean readOnly) {
    try {
      Connection connection =
          Optional.ofNullable(new Driver().connect(store.address().url(), properties(store)))
              .orElseThrow(() -> new LogbookException(store.where() + ": no driver takes it."));
      try (Statement statement = connection.createStatement()) {
        statement.execute(LIMITS + (readOnly ? SAME_PLANS : FRESH_PLANS));
      }
      connection.setReadOnly(readOnly);
      connection.setTransactionIsolation(
          readOnly
              ? Connection.TRANSACTION_REPEATABLE_READ
              : Connection.TRANSACTION_READ_COMMITTED);
      connection.setAutoCommit(false);
      return connection;
    } catch (SQLException e) {
      throw store.error("connecting to it", e);
    }
  }

  private static Properties properties(PostgresStore store) {
    Properties properties = new Properties();
    properties.setProperty("currentSchema", store.address().schema());
    properties.setProperty("ApplicationName", "millrace");
    properties.setProperty("connectTimeout", CONNECT_S);
    properties.setProperty("loginTimeout", store.address().connectTimeout().orElse(CONNECT_S));
    properties.setProperty("socketTimeout", SILENCE_S);
    properties.setProperty("tcpKeepAlive", "true");
    properties.setProperty("prepareThreshold", ALWAYS_BINARY);
    return properties;
  }
}
