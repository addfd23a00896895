// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import millrace.PostgresServer;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;

/** A place in a store that is looked at again and again, on a real server. */
class StoreReadersIT {
  @RegisterExtension final OpenBook open = new OpenBook();
  private final PostgresServer server = PostgresServer.get();
  private String database = "";
  private LogbookPlace place;

  @BeforeEach
  void make() {
    database = server.store();
    place = LogbookPlace.of(StoreAddress.of(database));
  }

  /** The process of the server that answers this connection. */
  private static long process(Logbook look) {
    return look.session()
        .query(
            "asking who answers",
            () ->
                look.session()
                    .one("SELECT CAST(pg_backend_pid() AS BIGINT)", slots -> {}, SqlQueryRow::whole)
                    .orElseThrow());
  }

  private long look() {
    try (Logbook look = place.readOnly()) {
      return process(look);
    }
  }

  private void publish(String unit) {
    try (RunWriter writer = open.logbook().begin(Sample.start(unit))) {
      writer.end(RunState.COMPLETE, "", Instant.EPOCH);
    }
    List<RunSummary> all = open.logbook().runs(RunFilter.ALL);
    try (SharedStore store = SharedStore.at(StoreAddress.of(database))) {
      store.publish(open.logbook(), all.get(all.size() - 1));
    }
  }

  @Test
  void theNextLookTakesTheSameConnection() {
    assertEquals(look(), look());
  }

  @Test
  void aLookSeesTheStoreAsItStandsThenAndTheNextOneWhatCameSince() {
    publish("BX5-0001");
    try (Logbook look = place.readOnly()) {
      assertEquals(1, look.runs(RunFilter.ALL).size());
      publish("BX5-0002");
      assertEquals(1, look.runs(RunFilter.ALL).size());
    }

    try (Logbook next = place.readOnly()) {
      assertEquals(2, next.runs(RunFilter.ALL).size());
    }
  }

  @Test
  void twoLooksAtOnceHaveEachItsOwnAndOnlyTwoConnectionsWaitAfterwards() {
    List<Logbook> looks = new ArrayList<>();
    for (int i = 0; i < 4; i++) {
      looks.add(place.readOnly());
    }
    assertEquals(4, looks.stream().map(StoreReadersIT::process).distinct().count());
    List<Long> all = looks.stream().map(StoreReadersIT::process).toList();
    looks.forEach(Logbook::close);

    List<Long> kept = new ArrayList<>();
    List<Logbook> again = new ArrayList<>();
    for (int i = 0; i < 3; i++) {
      Logbook look = place.readOnly();
      again.add(look);
      kept.add(process(look));
    }
    again.forEach(Logbook::close);

    assertEquals(2, kept.stream().filter(all::contains).count());
  }

  @Test
  void aConnectionThatTheServerEndedIsMadeAnew() {
    long first = look();
    server.sql(
        database.replaceAll(".*/|[?].*", ""), "SELECT pg_terminate_backend(" + first + ", 10000)");

    assertNotEquals(first, look());
  }
}
