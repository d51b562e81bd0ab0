-- One statement each, so that no row comes in between. Edits wait for it and none is lost.
ALTER TABLE "BoardUpdate" DROP CONSTRAINT "BoardUpdate_pkey",
ADD CONSTRAINT "BoardUpdate_pkey" PRIMARY KEY ("boardId", "id");

-- The key is this index now.
DROP INDEX "BoardUpdate_boardId_id_idx";

ALTER TABLE "AuditEvent" DROP CONSTRAINT "AuditEvent_pkey",
ADD CONSTRAINT "AuditEvent_pkey" PRIMARY KEY ("staffId", "id");

DROP INDEX "AuditEvent_staffId_id_idx";
