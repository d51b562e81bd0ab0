-- One statement, so that no update comes in between. Edits wait for it and none is lost.
ALTER TABLE "BoardUpdate" DROP CONSTRAINT "BoardUpdate_pkey",
ADD CONSTRAINT "BoardUpdate_pkey" PRIMARY KEY ("boardId", "id");

-- The key is this index now.
DROP INDEX "BoardUpdate_boardId_id_idx";
