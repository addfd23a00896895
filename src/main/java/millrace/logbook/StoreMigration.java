// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;
import org.flywaydb.core.api.configuration.FluentConfiguration;
import org.postgresql.ds.PGSimpleDataSource;

/** The steps that bring a store's tables to the present version; forward only. */
final class StoreMigration {
  private static final String STEPS = "classpath:millrace/logbook/store";

  private StoreMigration() {}

  /** Makes the tables, or brings them to the present version. */
  static void forward(StoreAddress address) {
    PostgresStore store = new PostgresStore(address);
    try (SqlSession session = new SqlSession(store, PostgresConnections.open(store, true))) {
      StoreVersion.refuseNewer(session, store);
    }
    try {
      flyway(address).load().migrate();
    } catch (FlywayException e) {
      throw cause(e) instanceof SQLException sql
          ? store.error("making its tables", sql)
          : store.refusal(
              "its tables do not fit the steps of this Millrace (%s)"
                  .formatted(String.valueOf(e.getMessage()).lines().findFirst().orElse("")),
              "Nothing was changed. They were changed by hand, or by a newer Millrace.");
    }
  }

  private static FluentConfiguration flyway(StoreAddress address) {
    PGSimpleDataSource source = new PGSimpleDataSource();
    source.setUrl(address.url());
    return Flyway.configure(StoreMigration.class.getClassLoader())
        .dataSource(source)
        .defaultSchema(address.schema())
        .locations(STEPS)
        .loggers(new NoFlywayLog().getClass().getName())
        .cleanDisabled(true)
        .validateMigrationNaming(true);
  }

  private static Throwable cause(Throwable error) {
    Throwable last = error;
    while (last.getCause() != null && !(last instanceof SQLException)) {
      last = last.getCause();
    }
    return last;
  }
}
