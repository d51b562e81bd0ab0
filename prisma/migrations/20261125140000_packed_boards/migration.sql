-- AlterTable
ALTER TABLE "Board" ADD COLUMN     "packings" INTEGER NOT NULL DEFAULT 0;

-- AlterTable
ALTER TABLE "BoardUpdate" ADD COLUMN     "rebased" BYTEA;

-- AlterTable
ALTER TABLE "BoardSnapshot" ADD COLUMN     "packed" BYTEA;
