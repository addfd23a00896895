// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import millrace.PostgresServer;
import millrace.logbook.BenchRuns;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunSummary;
import millrace.logbook.SharedStore;
import millrace.logbook.StoreAddress;
import millrace.time.Seeds;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Publishing as a person or a script does it, to a real server, also where it goes wrong. */
class PublishCommandIT {
  private static final int RUNS = 8;
  private static final int READINGS = 10 * 100;

  private final PostgresServer server = PostgresServer.get();
  @TempDir private Path folder;
  private String book = "";
  private String store = "";

  @BeforeEach
  void make() {
    book = folder.resolve("a.db").toString();
    store = server.store();
  }

  private String name() {
    return store.replaceAll(".*/|[?].*", "");
  }

  @Test
  void saysWhatBecameOfEachRun() {
    Spoken.importExample(book);
    assertEquals(
        "run 1 (unit FX3-00042): published\n1 published, 0 added to, 0 there already\n",
        Spoken.done("publish", "1", "--to", store, "--logbook", book).out());
    assertEquals(
        "0 published, 0 added to, 0 there already\n",
        Spoken.done("publish", "--all", "--to", store, "--logbook", book).out());
    Spoken.done("note", "1", "a lead was loose", "--logbook", book);
    assertEquals(
        "run 1 (unit FX3-00042): was there; what came since was added\n"
            + "0 published, 1 added to, 0 there already\n",
        Spoken.done("publish", "--all", "--to", store, "--logbook", book).out());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          ?user=nobody_here       | the server does not let this user in (FATAL: password authentication failed
          ?user=keeper&sslmode=require | no safe connection (TLS) came about (The server does not support SSL)
          ?user=reader_1          | this user may not do that there (ERROR: permission denied
          x?user=keeper           | there is no such database (FATAL: database
          """)
  void whatIsWrongIsSaidInASentence(String rest, String expected) {
    server.sql(
        "postgres",
        "DO $$ BEGIN CREATE ROLE reader_1 LOGIN PASSWORD 'keeper' IN ROLE millrace_reader;"
            + " EXCEPTION WHEN duplicate_object THEN NULL; END $$");
    BenchRuns.write(Path.of(book), 2, 1);
    String address = store.replaceAll("[?].*", "") + rest;
    Spoken said = Spoken.by("publish", "--all", "--to", address, "--logbook", book);
    assertEquals(5, said.code(), said.err());
    assertTrue(said.err().contains(expected), said.err());
    assertEquals(1, said.err().lines().count(), said.err());
    assertEquals("0", server.sql(name(), "SELECT count(*) FROM millrace.run").strip());
  }

  @Test
  void whereNoPasswordIsKeptThePlaceForItIsNamed() throws IOException {
    BenchRuns.write(Path.of(book), 1, 1);
    String kept =
        System.setProperty("org.postgresql.pgpassfile", folder.resolve("none").toString());
    try {
      Spoken said = Spoken.by("publish", "--all", "--to", store, "--logbook", book);
      assertEquals(5, said.code());
      assertTrue(said.err().contains("the server does not let this user in"), said.err());
      assertTrue(said.err().contains("password file (~/.pgpass)"), said.err());
    } finally {
      System.setProperty("org.postgresql.pgpassfile", kept);
    }
  }

  @Test
  void aServerThatIsAwayCostsNothing() throws IOException {
    BenchRuns.write(Path.of(book), 1, 1);
    try (var taken = new java.net.ServerSocket(0, 1, java.net.InetAddress.getLoopbackAddress())) {
      taken.close();
      Spoken said =
          Spoken.by(
              "publish",
              "--all",
              "--to",
              "jdbc:postgresql://127.0.0.1:" + taken.getLocalPort() + "/millrace",
              "--logbook",
              book);
      assertEquals(5, said.code());
      assertTrue(said.err().contains("the server cannot be reached, or broke off"), said.err());
      assertTrue(said.err().contains("Nothing is lost"), said.err());
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          jdbc:postgresql://h/d?password=secret    | there is a password in it
          jdbc:postgresql://h/d?sslpassword=secret | there is a password in it
          jdbc:postgresql://u:secret@h/d           | this is not the address of a store
          jdbc:postgresql://h/d?sslmode=verify     | the option 'sslmode=verify'
          jdbc:postgresql://h/d?socketFactory=a.B  | the option 'socketFactory' is not known
          jdbc:postgresql://h/d?currentSchema=a"b  | the schema 'a"b'
          jdbc:sqlite:a.db                         | this is not the address of a store
          """)
  void anAddressIsReadBeforeAnythingIsSent(String address, String expected) {
    Spoken said = Spoken.by("publish", "--all", "--to", address, "--logbook", book);
    assertEquals(2, said.code(), said.err());
    assertTrue(said.err().contains(expected), said.err());
    assertTrue(!said.err().contains("secret"), said.err());
  }

  @Test
  void aBenchAddsAndChangesNothing() {
    server.sql(
        "postgres",
        "DO $$ BEGIN CREATE ROLE bench_1 LOGIN PASSWORD 'keeper' IN ROLE millrace_bench;"
            + " EXCEPTION WHEN duplicate_object THEN NULL; END $$");
    BenchRuns.write(Path.of(book), 1, 1);
    String address = store.replace("user=keeper", "user=bench_1");
    Spoken.done("publish", "--all", "--to", address, "--logbook", book);
    assertEquals(
        "INSERT,SELECT",
        server
            .sql(
                name(),
                "SELECT string_agg(DISTINCT privilege_type, ',' ORDER BY privilege_type) FROM"
                    + " information_schema.role_table_grants WHERE grantee = 'millrace_bench'")
            .strip());
  }

  @Test
  void theScriptOfTheRolesIsPrinted() {
    assertTrue(Spoken.done("publish", "--roles").out().contains("CREATE ROLE"));
  }

  private void letIn() throws IOException {
    Files.writeString(folder.resolve(".pgpass"), Files.readString(server.passwords()));
    Files.setPosixFilePermissions(
        folder.resolve(".pgpass"), PosixFilePermissions.fromString("rw-------"));
  }

  @Test
  @Timeout(120)
  void whoFollowsCatchesUpWhenTheServerIsBack() throws Exception {
    letIn();
    BenchRuns.write(Path.of(book), 2, 1);
    RunProcess process =
        RunProcess.start(folder, "publish", "--follow", "--to", store, "--logbook", book);
    try {
      process.says(folder.resolve("out"), "run 2 (unit BX5-1): published");
      server.stop();
      BenchRuns.write(Path.of(book), 1, 1);
      process.says(
          folder.resolve("err"), "Waiting for it; runs are kept in the logbook meanwhile.");
      server.start();
      process.says(folder.resolve("out"), "run 3 (unit BX5-0): published");
      process.says(folder.resolve("err"), "The store answers again.");
    } finally {
      process.process().destroyForcibly().waitFor();
    }
    assertEquals("3", server.sql(name(), "SELECT count(*) FROM millrace.run").strip());
  }

  /** The server ends without putting anything in order, while runs are sent to it. */
  @Test
  @Timeout(300)
  void aServerThatDiesLosesNothingAndIsCaughtUpWith() throws Exception {
    letIn();
    BenchRuns.write(Path.of(book), RUNS, READINGS / 10);
    String[] all = {"publish", "--all", "--to", store, "--logbook", book};
    RunProcess once = RunProcess.start(folder, all);
    once.says(folder.resolve("out"), "run 1 ");
    server.crash();
    int code = once.process().waitFor();
    server.start();
    int whole = assertWhole();
    assertTrue(code == 5 || code == 0 && whole == RUNS, "exit code " + code);

    store = server.store();
    all = new String[] {"publish", "--follow", "--to", store, "--logbook", book};
    RunProcess following = RunProcess.start(folder, all);
    try {
      following.says(folder.resolve("out"), "run 1 ");
      server.crash();
      following.says(folder.resolve("err"), "Waiting for it");
      server.start();
      following.says(folder.resolve("out"), "run " + RUNS + " ");
    } finally {
      following.process().destroyForcibly().waitFor();
    }
    assertEquals(RUNS, assertWhole());
  }

  private void killed(int kills) throws Exception {
    letIn();
    BenchRuns.write(Path.of(book), RUNS, READINGS / 10);
    SplittableRandom random = new Seeds(kills).stream("kills of publish");
    int met = 0;
    int tried = 0;
    int whole = 0;
    while (met < kills && tried < 10 * kills) {
      RunProcess process =
          RunProcess.start(folder, "publish", "--all", "--to", store, "--logbook", book);
      tried++;
      process.says(folder.resolve("out"), "run ");
      boolean ended = process.process().waitFor(random.nextInt(400_000), TimeUnit.MICROSECONDS);
      process.process().destroyForcibly().waitFor();
      met += ended ? 0 : 1;
      whole = assertWhole();
      if (whole == RUNS) {
        store = server.store();
      }
    }
    Path out = Files.createDirectories(Path.of("target", "verification"));
    Files.writeString(
        out.resolve("kills-of-publish-%s.txt".formatted(kills)),
        "%s kills met %s publications at work; nothing was lost, doubled or half there%n"
            .formatted(tried, met));
    Spoken.done("publish", "--all", "--to", store, "--logbook", book);
    assertEquals(RUNS, assertWhole());
  }

  /** What is there is whole and there once; how many runs that are. */
  private int assertWhole() {
    List<RunSummary> runs;
    try (Logbook there = SharedStore.logbook(StoreAddress.of(store))) {
      runs = there.runs(RunFilter.ALL);
      runs.forEach(r -> assertEquals(List.of(), there.verify(r.id()).faults()));
      assertEquals(runs.size(), runs.stream().map(RunSummary::uuid).distinct().count());
    }
    assertEquals(
        String.valueOf(runs.size() * READINGS),
        server.sql(name(), "SELECT count(*) FROM millrace.reading").strip());
    return runs.size();
  }

  @Test
  @Timeout(120)
  void aFewKillsLeaveNothingHalf() throws Exception {
    killed(5);
  }

  @Test
  @Tag("campaign")
  @Timeout(3600)
  void manyKillsLeaveNothingHalf() throws Exception {
    killed(Integer.getInteger("millrace.kills", 200));
  }
}
