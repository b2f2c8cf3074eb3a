-- AlterTable
ALTER TABLE "Photo" ADD COLUMN "shot" TEXT;

-- CreateTable
CREATE TABLE "PhotoLook" (
    "photoId" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "pixels" TEXT NOT NULL,
    "hash" TEXT,
    "band0" INTEGER,
    "band1" INTEGER,
    "band2" INTEGER
);

-- CreateTable
CREATE TABLE "Likeness" (
    "photoId" TEXT NOT NULL,
    "otherId" TEXT NOT NULL,
    "projectId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "distance" INTEGER NOT NULL,
    "orientation" INTEGER NOT NULL,

    PRIMARY KEY ("photoId", "otherId")
);

-- CreateTable
CREATE TABLE "LikenessAnswer" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "photoId" TEXT NOT NULL,
    "otherId" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "at" DATETIME NOT NULL,
    "byId" TEXT NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "PhotoReading" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "photoId" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "CameraSample" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "camera" TEXT NOT NULL,
    "photoId" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "source" TEXT NOT NULL,
    "wall" TEXT NOT NULL,
    "trueAt" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "ClockPhoto" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "camera" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "receivedAt" DATETIME NOT NULL,
    "byId" TEXT NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "CameraClock" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "camera" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "at" DATETIME NOT NULL,
    "byId" TEXT NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "StreakCheck" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "photoId" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "at" DATETIME NOT NULL,
    "byId" TEXT NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "PhotoLimits" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "at" DATETIME NOT NULL,
    "byId" TEXT NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "CardPhoto" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "receivedAt" DATETIME NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateIndex
CREATE INDEX "Photo_projectId_shot_idx" ON "Photo"("projectId", "shot");

-- CreateIndex
CREATE INDEX "PhotoLook_projectId_pixels_idx" ON "PhotoLook"("projectId", "pixels");

-- CreateIndex
CREATE INDEX "PhotoLook_projectId_band0_idx" ON "PhotoLook"("projectId", "band0");

-- CreateIndex
CREATE INDEX "PhotoLook_projectId_band1_idx" ON "PhotoLook"("projectId", "band1");

-- CreateIndex
CREATE INDEX "PhotoLook_projectId_band2_idx" ON "PhotoLook"("projectId", "band2");

-- CreateIndex
CREATE INDEX "Likeness_otherId_idx" ON "Likeness"("otherId");

-- CreateIndex
CREATE INDEX "Likeness_projectId_idx" ON "Likeness"("projectId");

-- CreateIndex
CREATE INDEX "LikenessAnswer_photoId_idx" ON "LikenessAnswer"("photoId");

-- CreateIndex
CREATE INDEX "LikenessAnswer_otherId_idx" ON "LikenessAnswer"("otherId");

-- CreateIndex
CREATE UNIQUE INDEX "LikenessAnswer_projectId_seq_key" ON "LikenessAnswer"("projectId", "seq");

-- CreateIndex
CREATE INDEX "PhotoReading_photoId_idx" ON "PhotoReading"("photoId");

-- CreateIndex
CREATE UNIQUE INDEX "PhotoReading_projectId_seq_key" ON "PhotoReading"("projectId", "seq");

-- CreateIndex
CREATE INDEX "CameraSample_projectId_camera_idx" ON "CameraSample"("projectId", "camera");

-- CreateIndex
CREATE INDEX "ClockPhoto_projectId_camera_idx" ON "ClockPhoto"("projectId", "camera");

-- CreateIndex
CREATE UNIQUE INDEX "ClockPhoto_projectId_seq_key" ON "ClockPhoto"("projectId", "seq");

-- CreateIndex
CREATE INDEX "CameraClock_projectId_camera_idx" ON "CameraClock"("projectId", "camera");

-- CreateIndex
CREATE UNIQUE INDEX "CameraClock_projectId_seq_key" ON "CameraClock"("projectId", "seq");

-- CreateIndex
CREATE INDEX "StreakCheck_photoId_idx" ON "StreakCheck"("photoId");

-- CreateIndex
CREATE UNIQUE INDEX "StreakCheck_projectId_seq_key" ON "StreakCheck"("projectId", "seq");

-- CreateIndex
CREATE UNIQUE INDEX "PhotoLimits_projectId_seq_key" ON "PhotoLimits"("projectId", "seq");

-- CreateIndex
CREATE UNIQUE INDEX "CardPhoto_projectId_personId_sha256_key" ON "CardPhoto"("projectId", "personId", "sha256");

CREATE TRIGGER "LikenessAnswer_no_update" BEFORE UPDATE ON "LikenessAnswer"
BEGIN SELECT RAISE(ABORT, 'LikenessAnswer is append-only: UPDATE refused'); END;

CREATE TRIGGER "LikenessAnswer_no_delete" BEFORE DELETE ON "LikenessAnswer"
BEGIN SELECT RAISE(ABORT, 'LikenessAnswer is append-only: DELETE refused'); END;

CREATE TRIGGER "LikenessAnswer_no_replace" BEFORE INSERT ON "LikenessAnswer"
WHEN EXISTS (SELECT 1 FROM "LikenessAnswer" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "LikenessAnswer" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "LikenessAnswer" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'LikenessAnswer is append-only: this row exists'); END;

CREATE TRIGGER "PhotoReading_no_update" BEFORE UPDATE ON "PhotoReading"
BEGIN SELECT RAISE(ABORT, 'PhotoReading is append-only: UPDATE refused'); END;

CREATE TRIGGER "PhotoReading_no_delete" BEFORE DELETE ON "PhotoReading"
BEGIN SELECT RAISE(ABORT, 'PhotoReading is append-only: DELETE refused'); END;

CREATE TRIGGER "PhotoReading_no_replace" BEFORE INSERT ON "PhotoReading"
WHEN EXISTS (SELECT 1 FROM "PhotoReading" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "PhotoReading" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "PhotoReading" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'PhotoReading is append-only: this row exists'); END;

CREATE TRIGGER "ClockPhoto_no_update" BEFORE UPDATE ON "ClockPhoto"
BEGIN SELECT RAISE(ABORT, 'ClockPhoto is append-only: UPDATE refused'); END;

CREATE TRIGGER "ClockPhoto_no_delete" BEFORE DELETE ON "ClockPhoto"
BEGIN SELECT RAISE(ABORT, 'ClockPhoto is append-only: DELETE refused'); END;

CREATE TRIGGER "ClockPhoto_no_replace" BEFORE INSERT ON "ClockPhoto"
WHEN EXISTS (SELECT 1 FROM "ClockPhoto" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "ClockPhoto" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "ClockPhoto" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'ClockPhoto is append-only: this row exists'); END;

CREATE TRIGGER "CameraClock_no_update" BEFORE UPDATE ON "CameraClock"
BEGIN SELECT RAISE(ABORT, 'CameraClock is append-only: UPDATE refused'); END;

CREATE TRIGGER "CameraClock_no_delete" BEFORE DELETE ON "CameraClock"
BEGIN SELECT RAISE(ABORT, 'CameraClock is append-only: DELETE refused'); END;

CREATE TRIGGER "CameraClock_no_replace" BEFORE INSERT ON "CameraClock"
WHEN EXISTS (SELECT 1 FROM "CameraClock" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "CameraClock" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "CameraClock" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'CameraClock is append-only: this row exists'); END;

CREATE TRIGGER "StreakCheck_no_update" BEFORE UPDATE ON "StreakCheck"
BEGIN SELECT RAISE(ABORT, 'StreakCheck is append-only: UPDATE refused'); END;

CREATE TRIGGER "StreakCheck_no_delete" BEFORE DELETE ON "StreakCheck"
BEGIN SELECT RAISE(ABORT, 'StreakCheck is append-only: DELETE refused'); END;

CREATE TRIGGER "StreakCheck_no_replace" BEFORE INSERT ON "StreakCheck"
WHEN EXISTS (SELECT 1 FROM "StreakCheck" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "StreakCheck" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "StreakCheck" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'StreakCheck is append-only: this row exists'); END;

CREATE TRIGGER "PhotoLimits_no_update" BEFORE UPDATE ON "PhotoLimits"
BEGIN SELECT RAISE(ABORT, 'PhotoLimits is append-only: UPDATE refused'); END;

CREATE TRIGGER "PhotoLimits_no_delete" BEFORE DELETE ON "PhotoLimits"
BEGIN SELECT RAISE(ABORT, 'PhotoLimits is append-only: DELETE refused'); END;

CREATE TRIGGER "PhotoLimits_no_replace" BEFORE INSERT ON "PhotoLimits"
WHEN EXISTS (SELECT 1 FROM "PhotoLimits" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "PhotoLimits" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "PhotoLimits" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'PhotoLimits is append-only: this row exists'); END;
