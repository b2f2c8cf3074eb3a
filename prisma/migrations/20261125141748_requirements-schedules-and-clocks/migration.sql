-- CreateTable
CREATE TABLE "Review" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "letter" TEXT NOT NULL,
    "digest" TEXT NOT NULL,
    "outcome" TEXT NOT NULL,
    "words" TEXT NOT NULL,
    "byId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "seq" INTEGER NOT NULL
);

-- CreateTable
CREATE TABLE "Logger" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "sheet" TEXT NOT NULL,
    "line" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "enteredAt" DATETIME NOT NULL,
    "byId" TEXT NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Weather" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "enteredAt" DATETIME NOT NULL,
    "byId" TEXT NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "TideTable" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "enteredAt" DATETIME NOT NULL,
    "byId" TEXT NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Schedule" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "at" DATETIME NOT NULL,
    "byId" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "undoneSeq" INTEGER
);

-- CreateTable
CREATE TABLE "RevisionDraft" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "letter" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "changedAt" DATETIME NOT NULL,
    "byId" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "ScheduleDraft" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "grid" TEXT NOT NULL,
    "mapping" TEXT NOT NULL,
    "answers" TEXT NOT NULL,
    "updatedAt" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "ColumnMemory" (
    "projectId" TEXT NOT NULL,
    "header" TEXT NOT NULL,
    "body" TEXT NOT NULL,

    PRIMARY KEY ("projectId", "header")
);

-- CreateTable
CREATE TABLE "CalendarLink" (
    "tokenHash" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL,
    "revokedAt" DATETIME
);

-- AlterTable
ALTER TABLE "Pile" ADD COLUMN "drawn" TEXT;
ALTER TABLE "Pile" ADD COLUMN "words" TEXT NOT NULL DEFAULT '';
ALTER TABLE "Pile" ADD COLUMN "scope" TEXT NOT NULL DEFAULT 'in';
ALTER TABLE "Pile" ADD COLUMN "scheduleId" TEXT;

-- An override holds from a place in the log; those a pile was added with hold from the beginning.
UPDATE "Pile" SET "overrides" = (SELECT json_group_array(json_object('fromSeq', 0, 'override', json(value), 'untilSeq', json('null'))) FROM json_each("Pile"."overrides"));

-- AlterTable
ALTER TABLE "Revision" ADD COLUMN "seq" INTEGER NOT NULL DEFAULT 0;
ALTER TABLE "Revision" ADD COLUMN "terms" TEXT NOT NULL DEFAULT '{}';

-- CreateIndex
CREATE UNIQUE INDEX "Review_projectId_seq_key" ON "Review"("projectId", "seq");

-- CreateIndex
CREATE INDEX "Logger_sheet_line_idx" ON "Logger"("sheet", "line");

-- CreateIndex
CREATE UNIQUE INDEX "Logger_projectId_seq_key" ON "Logger"("projectId", "seq");

-- CreateIndex
CREATE UNIQUE INDEX "Weather_projectId_seq_key" ON "Weather"("projectId", "seq");

-- CreateIndex
CREATE UNIQUE INDEX "TideTable_projectId_seq_key" ON "TideTable"("projectId", "seq");

-- CreateIndex
CREATE UNIQUE INDEX "Schedule_projectId_seq_key" ON "Schedule"("projectId", "seq");

-- CreateIndex
CREATE UNIQUE INDEX "RevisionDraft_projectId_letter_key" ON "RevisionDraft"("projectId", "letter");

-- CreateIndex
CREATE INDEX "ScheduleDraft_projectId_personId_idx" ON "ScheduleDraft"("projectId", "personId");

-- CreateIndex
CREATE INDEX "CalendarLink_projectId_personId_idx" ON "CalendarLink"("projectId", "personId");

CREATE TRIGGER "Review_no_update" BEFORE UPDATE ON "Review"
BEGIN SELECT RAISE(ABORT, 'Review is append-only: UPDATE refused'); END;

CREATE TRIGGER "Review_no_delete" BEFORE DELETE ON "Review"
BEGIN SELECT RAISE(ABORT, 'Review is append-only: DELETE refused'); END;

CREATE TRIGGER "Review_no_replace" BEFORE INSERT ON "Review"
WHEN EXISTS (SELECT 1 FROM "Review" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Review" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "Review" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'Review is append-only: this row exists'); END;

CREATE TRIGGER "Logger_no_update" BEFORE UPDATE ON "Logger"
BEGIN SELECT RAISE(ABORT, 'Logger is append-only: UPDATE refused'); END;

CREATE TRIGGER "Logger_no_delete" BEFORE DELETE ON "Logger"
BEGIN SELECT RAISE(ABORT, 'Logger is append-only: DELETE refused'); END;

CREATE TRIGGER "Logger_no_replace" BEFORE INSERT ON "Logger"
WHEN EXISTS (SELECT 1 FROM "Logger" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Logger" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "Logger" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'Logger is append-only: this row exists'); END;

CREATE TRIGGER "Weather_no_update" BEFORE UPDATE ON "Weather"
BEGIN SELECT RAISE(ABORT, 'Weather is append-only: UPDATE refused'); END;

CREATE TRIGGER "Weather_no_delete" BEFORE DELETE ON "Weather"
BEGIN SELECT RAISE(ABORT, 'Weather is append-only: DELETE refused'); END;

CREATE TRIGGER "Weather_no_replace" BEFORE INSERT ON "Weather"
WHEN EXISTS (SELECT 1 FROM "Weather" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Weather" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "Weather" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'Weather is append-only: this row exists'); END;

CREATE TRIGGER "TideTable_no_update" BEFORE UPDATE ON "TideTable"
BEGIN SELECT RAISE(ABORT, 'TideTable is append-only: UPDATE refused'); END;

CREATE TRIGGER "TideTable_no_delete" BEFORE DELETE ON "TideTable"
BEGIN SELECT RAISE(ABORT, 'TideTable is append-only: DELETE refused'); END;

CREATE TRIGGER "TideTable_no_replace" BEFORE INSERT ON "TideTable"
WHEN EXISTS (SELECT 1 FROM "TideTable" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "TideTable" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "TideTable" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'TideTable is append-only: this row exists'); END;
