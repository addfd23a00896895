// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.zip.GZIPOutputStream;
import org.apache.parquet.bytes.BytesInput;
import org.apache.parquet.compression.CompressionCodecFactory;
import org.apache.parquet.hadoop.metadata.CompressionCodecName;

/**
 * Compresses the pages of a Parquet file by the JDK's own GZIP, which every engine reads; the
 * library's own codecs are native libraries. Stateless.
 */
final class GzipPages implements CompressionCodecFactory {
  @Override
  public BytesInputCompressor getCompressor(CompressionCodecName codec) {
    return new Pages();
  }

  @Override
  public BytesInputDecompressor getDecompressor(CompressionCodecName codec) {
    throw new UnsupportedOperationException("files are written, not read");
  }

  @Override
  public void release() {}

  private static final class Pages implements BytesInputCompressor {
    @Override
    public BytesInput compress(BytesInput page) throws IOException {
      ByteArrayOutputStream bytes = new ByteArrayOutputStream();
      try (GZIPOutputStream packed = new GZIPOutputStream(bytes)) {
        page.writeAllTo(packed);
      }
      return BytesInput.from(bytes.toByteArray());
    }

    @Override
    public CompressionCodecName getCodecName() {
      return CompressionCodecName.GZIP;
    }

    @Override
    public void release() {}
  }
}
