// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import millrace.PostgresServer;
import millrace.assessment.comparison.Batch;
import millrace.assessment.comparison.Batch.Order;
import millrace.assessment.comparison.BatchDriftWatch;
import millrace.assessment.comparison.MergedBatch;
import millrace.evidence.RunOrigin;
import millrace.logbook.BatchJudgedValue;
import millrace.logbook.RunFilter;
import millrace.logbook.SharedStore;
import millrace.logbook.StoreAddress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A batch that two benches test, through a store on a real server. */
@Timeout(300)
class BatchElsewhereIT {
  @TempDir private Path folder;

  private Batch bench(String name) throws IOException {
    return new Batch(Files.createDirectory(folder.resolve(name)));
  }

  private static long boards(Batch bench, Random random, int from, int to, double meanPpm) {
    long last = 0;
    for (int i = from; i < to; i++) {
      last =
          bench.run(
              Order.of("B-" + i).in("B7"),
              List.of(Batch.error(meanPpm + 5 * random.nextGaussian())));
    }
    return last;
  }

  private static void publish(Batch bench, StoreAddress store) {
    try (SharedStore shared = SharedStore.at(store)) {
      bench.book().runs(RunFilter.ALL).forEach(run -> shared.publish(bench.book(), run));
    }
  }

  /** Asks again until something is said that is news; what was asked last is awaited by it. */
  private static List<String> newsOf(BatchElsewhere elsewhere, String part) throws Exception {
    List<String> news = elsewhere.news();
    while (!String.join(" ", news).contains(part)) {
      Thread.sleep(10);
      elsewhere.refresh();
      news = elsewhere.news();
    }
    return news;
  }

  @Test
  void aShiftIsSeenThatThisBenchAloneCannotSee() throws Exception {
    StoreAddress store = StoreAddress.of(PostgresServer.get().store());
    Random random = new Random(4);
    try (Batch other = bench("other");
        Batch mine = bench("mine");
        BatchElsewhere elsewhere = BatchElsewhere.of(Optional.of(store), "B7")) {
      newsOf(elsewhere, "The store has 0 tested units of batch B7.");
      boards(other, random, 0, 40, 0);
      // What is neither of this batch nor measured by a bench is in no chart.
      other.run(Order.of("C-0").in("B8"), List.of(Batch.error(-90)));
      other.run(Order.of("B-99").in("B7"), RunOrigin.IMPORTED, List.of(Batch.error(90)), w -> {});
      publish(other, store);
      while (elsewhere.values().size() < 40) {
        Thread.sleep(10);
        elsewhere.refresh();
      }
      assertEquals(40, elsewhere.values().size());
      mine.later(1);
      long last = boards(mine, random, 40, 46, 20);
      List<BatchJudgedValue> own = mine.book().reader(last).batch();
      assertEquals(List.of(), new BatchDriftWatch().of(own));
      BatchDriftWatch.Drift drift =
          new BatchDriftWatch().of(MergedBatch.of(own, elsewhere.values())).get(0);
      assertEquals(40, drift.unitsBefore(), 2);
      assertEquals(46, drift.unitsBefore() + drift.units());
      assertEquals(List.of(), elsewhere.reminder());
    }
  }

  /** Publishing runs in another order than they were measured changes no chart. */
  @Test
  void ofAUnitThatWasPublishedTwiceTheFirstRunCounts() throws Exception {
    StoreAddress store = StoreAddress.of(PostgresServer.get().store());
    try (Batch early = bench("early");
        Batch late = bench("late")) {
      early.run(Order.of("B-1").in("B7"), List.of(Batch.error(1)));
      late.later(2);
      late.run(Order.of("B-1").in("B7"), List.of(Batch.error(2)));
      publish(late, store);
      publish(early, store);
      assertEquals(
          List.of(1.0),
          SharedStore.batch(store, "B7").stream().map(BatchJudgedValue::value).toList());
    }
  }

  @Test
  void aStoreThatIsAwayIsNamedAndTheBatchGoesOnAsItWasKnown() throws Exception {
    PostgresServer server = PostgresServer.another();
    StoreAddress store = StoreAddress.of(server.store());
    try (Batch other = bench("other")) {
      boards(other, new Random(1), 0, 3, 0);
      publish(other, store);
      server.stop();
      try (BatchElsewhere elsewhere = BatchElsewhere.of(Optional.of(store), "B7")) {
        List<String> news = newsOf(elsewhere, "Testing goes on");
        assertTrue(news.get(0).contains("the server cannot be reached, or broke off"), news.get(0));
        assertEquals(
            "Testing goes on. Each board is held against those of this bench. The store is asked"
                + " again with each board.",
            news.get(1));
        assertEquals(1, elsewhere.reminder().size());
        server.start();
        newsOf(elsewhere, "The store has 3 tested units of batch B7.");
        assertEquals(List.of(), elsewhere.reminder());
        server.crash();
        news = newsOf(elsewhere, "Testing goes on");
        assertEquals(
            "Testing goes on. Each board is held against those of this bench and the 3 units that"
                + " the store had before. The store is asked again with each board.",
            news.get(1));
        assertEquals(3, elsewhere.values().size());
      }
    } finally {
      server.stop();
    }
  }

  /** It takes connections and never says a word. */
  @Test
  void nobodyWaitsForAStoreThatIsSilent() throws Exception {
    try (ServerSocket silent = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
        BatchElsewhere elsewhere =
            BatchElsewhere.of(
                Optional.of(
                    StoreAddress.of(
                        "jdbc:postgresql://127.0.0.1:%s/store?user=bench&connectTimeout=600"
                            .formatted(silent.getLocalPort()))),
                "B7")) {
      elsewhere.refresh();
      assertEquals(
          "The store has not answered yet. Testing does not wait for it.", elsewhere.news().get(0));
      elsewhere.refresh();
      assertEquals(List.of(), elsewhere.news());
      assertEquals(List.of(), elsewhere.values());
    }
  }

  @Test
  void nothingIsSaidWhereThisBenchIsAlone() {
    try (BatchElsewhere alone = BatchElsewhere.of(Optional.empty(), "B7")) {
      alone.refresh();
      assertEquals(List.of(), alone.news());
      assertEquals(List.of(), alone.reminder());
    }
  }
}
