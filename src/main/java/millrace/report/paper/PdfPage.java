// SPDX-License-Identifier: Apache-2.0
package millrace.report.paper;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import com.openhtmltopdf.util.XRLog;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.util.function.Consumer;
import java.util.logging.Level;
import java.util.logging.Logger;

/**
 * PDF of a page that was written for browsers. It uses the same markup and style sheets, followed
 * by rules for paper. Fonts are embedded, plots stay vectors, headings become bookmarks. Nothing is
 * fetched from a network. Stateless, thread-safe.
 */
public final class PdfPage {
  private static final String FAMILY = PaperStyle.FAMILY;

  /**
   * Logger of the library, which reports style rules meant for screens. The reference is kept,
   * since otherwise its level is lost.
   */
  private static final Logger LIBRARY = Logger.getLogger("org.apache.pdfbox");

  private PdfPage() {}

  /**
   * Makes the PDF.
   *
   * @param page writer of the page, well-formed
   * @return the bytes of a PDF
   */
  public static byte[] of(Consumer<Writer> page) {
    XRLog.setLoggingEnabled(false);
    LIBRARY.setLevel(Level.OFF);
    StringWriter source = new StringWriter();
    page.accept(source);
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    PdfRendererBuilder builder = new PdfRendererBuilder();
    builder.useSVGDrawer(new BatikSVGDrawer());
    builder.useUriResolver((base, uri) -> uri.startsWith("#") ? uri : null);
    builder.useFont(
        () -> PaperStyle.open("DejaVuSansCondensed.ttf"), FAMILY, 400, FontStyle.NORMAL, true);
    builder.useFont(
        () -> PaperStyle.open("DejaVuSansCondensed-Bold.ttf"), FAMILY, 700, FontStyle.NORMAL, true);
    builder.withHtmlContent(PaperStyle.applied(source.toString()), null);
    builder.withProducer("Millrace");
    builder.toStream(bytes);
    try {
      builder.run();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return bytes.toByteArray();
  }
}
