-- AlterTable
ALTER TABLE "Board" ADD COLUMN     "revision" INTEGER NOT NULL DEFAULT 0;
