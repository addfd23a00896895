// SPDX-License-Identifier: Apache-2.0
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.apache.spark.sql.Row;
import org.apache.spark.sql.SparkSession;

/**
 * Answers SQL over a folder of Parquet files with Apache Spark, whose processes share the work:
 * {@code java -cp 'JARS/*' src/scale/ColumnarSums.java MASTER FOLDER QUERY...}, each query a file.
 * Rows are printed with their cells between tabs, an empty line after each answer.
 */
final class ColumnarSums {
  private static final String JUDGED =
      """
      SELECT s.run_uuid, s.unit, s.batch, r.bench, r.operator, r.tag, s.quantity, s.kind, s.value,
             s.lower_limit, s.upper_limit, s.conformity
        FROM results s JOIN runs r ON r.month = s.month AND r.origin = s.origin AND r.run_uuid = s.run_uuid
       WHERE s.origin <> 'simulated' AND r.state = 'complete'
      """;

  public static void main(String[] args) throws Exception {
    try (SparkSession session =
        SparkSession.builder()
            .master(args[0])
            .appName("millrace")
            .config("spark.ui.enabled", "false")
            .config("spark.driver.host", "127.0.0.1")
            .config("spark.driver.bindAddress", "127.0.0.1")
            .config("spark.executor.extraJavaOptions", "-XX:TieredStopAtLevel=1 -XX:+UseSerialGC")
            .config("spark.sql.shuffle.partitions", "2")
            .config("spark.sql.session.timeZone", "UTC")
            .getOrCreate()) {
      for (String table : List.of("runs", "results")) {
        session.read().parquet(Path.of(args[1], table).toString()).createOrReplaceTempView(table);
      }
      session.sql(JUDGED).createOrReplaceTempView("judged");
      for (int i = 2; i < args.length; i++) {
        long began = System.nanoTime();
        List<Row> rows = session.sql(Files.readString(Path.of(args[i]))).collectAsList();
        rows.forEach(row -> System.out.println(cells(row)));
        System.out.println();
        System.err.printf("%s: %s ms%n", args[i], (System.nanoTime() - began) / 1_000_000);
      }
    }
  }

  private static String cells(Row row) {
    return IntStream.range(0, row.size())
        .mapToObj(i -> String.valueOf(row.get(i)))
        .collect(Collectors.joining("\t"));
  }
}
