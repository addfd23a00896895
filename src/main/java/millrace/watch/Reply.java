// SPDX-License-Identifier: Apache-2.0
package millrace.watch;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Base64;
import java.util.Map;

/** An HTTP response: a status, a type, headers, and a body that no longer changes. */
final class Reply {
  private static final String HTML = "text/html; charset=utf-8";

  private final int status;
  private final String type;
  private final Map<String, String> headers;
  private final byte[] body;

  private Reply(int status, String type, Map<String, String> headers, byte[] body) {
    this.status = status;
    this.type = type;
    this.headers = headers;
    this.body = body;
  }

  static Reply html(int status, String page) {
    return of(status, HTML, page);
  }

  static Reply text(int status, String text) {
    return of(status, "text/plain; charset=utf-8", text);
  }

  static Reply of(int status, String type, String text) {
    return new Reply(status, type, Map.of(), text.getBytes(StandardCharsets.UTF_8));
  }

  /** Redirects a browser to another page of this server. */
  static Reply to(String path, Map<String, String> more) {
    Map<String, String> headers = new java.util.HashMap<>(more);
    headers.put("Location", path);
    return new Reply(303, "text/plain; charset=utf-8", Map.copyOf(headers), new byte[0]);
  }

  /**
   * A page of the report, whose style is inline: its hash allows that style (W3C Content Security
   * Policy Level 3, 2.3.1).
   */
  static Reply document(String page) {
    int from = page.indexOf("<style>") + "<style>".length();
    String style = page.substring(from, page.indexOf("</style>", from));
    return new Reply(
        200,
        HTML,
        Map.of(
            "Content-Security-Policy",
            "default-src 'none'; style-src 'sha256-%s'; frame-ancestors 'none'; base-uri 'none'"
                .formatted(hash(style))),
        page.getBytes(StandardCharsets.UTF_8));
  }

  private static String hash(String text) {
    try {
      byte[] sum =
          MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
      return Base64.getEncoder().encodeToString(sum);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
  }

  int status() {
    return status;
  }

  String type() {
    return type;
  }

  Map<String, String> headers() {
    return headers;
  }

  byte[] body() {
    return body.clone();
  }
}
