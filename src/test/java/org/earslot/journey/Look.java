package org.earslot.journey;

import java.awt.Color;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.IntStream;
import javax.imageio.ImageIO;

/**
 * A picture of a page, reduced to the mean colour of blocks: what is where and in which colour stays, letters do not. A
 * block is compared with the nearest of its neighbours, since another font moves things a little.
 */
final class Look {

    /** Pixels. */
    private static final int BLOCK = 16;

    /** Of 255: more than the letters of another font change, less than another colour does. */
    private static final int LIGHTER = 48;

    private static final int ANOTHER_HUE = 14;
    private static final int NEAR = 3;

    private final BufferedImage blocks;

    private Look(BufferedImage blocks) {
        this.blocks = blocks;
    }

    /** @param png a screenshot */
    static Look of(byte[] png) throws IOException {
        BufferedImage picture = ImageIO.read(new ByteArrayInputStream(png));
        BufferedImage blocks =
                new BufferedImage(picture.getWidth() / BLOCK, picture.getHeight() / BLOCK, BufferedImage.TYPE_INT_RGB);
        for (int x = 0; x < blocks.getWidth(); x++) {
            for (int y = 0; y < blocks.getHeight(); y++) {
                blocks.setRGB(x, y, mean(picture.getRGB(x * BLOCK, y * BLOCK, BLOCK, BLOCK, null, 0, BLOCK)));
            }
        }
        return new Look(blocks);
    }

    static Look read(Path file) throws IOException {
        return new Look(ImageIO.read(file.toFile()));
    }

    void write(Path file) throws IOException {
        Files.createDirectories(file.getParent());
        ImageIO.write(blocks, "png", file.toFile());
    }

    private static int mean(int[] pixels) {
        int red = IntStream.of(pixels).map(rgb -> rgb >> 16 & 255).sum() / pixels.length;
        int green = IntStream.of(pixels).map(rgb -> rgb >> 8 & 255).sum() / pixels.length;
        int blue = IntStream.of(pixels).map(rgb -> rgb & 255).sum() / pixels.length;
        return red << 16 | green << 8 | blue;
    }

    /** How many blocks of this picture have nothing like them near the same place of another; all if sizes differ. */
    int blocksUnlike(Look other) {
        if (blocks.getWidth() != other.blocks.getWidth() || blocks.getHeight() != other.blocks.getHeight()) {
            return blocks.getWidth() * blocks.getHeight();
        }
        int unlike = 0;
        for (int x = 0; x < blocks.getWidth(); x++) {
            for (int y = 0; y < blocks.getHeight(); y++) {
                unlike += other.hasNear(x, y, new Color(blocks.getRGB(x, y))) ? 0 : 1;
            }
        }
        return unlike;
    }

    private boolean hasNear(int x, int y, Color colour) {
        for (int i = Math.max(0, x - NEAR); i <= Math.min(blocks.getWidth() - 1, x + NEAR); i++) {
            for (int j = Math.max(0, y - NEAR); j <= Math.min(blocks.getHeight() - 1, y + NEAR); j++) {
                if (isLike(new Color(blocks.getRGB(i, j)), colour)) {
                    return true;
                }
            }
        }
        return false;
    }

    /** Alike in lightness, and in hue: how far red and blue are from green. */
    private static boolean isLike(Color one, Color other) {
        return Math.abs(one.getGreen() - other.getGreen()) <= LIGHTER
                && Math.abs(one.getRed() - one.getGreen() - other.getRed() + other.getGreen()) <= ANOTHER_HUE
                && Math.abs(one.getBlue() - one.getGreen() - other.getBlue() + other.getGreen()) <= ANOTHER_HUE;
    }
}
